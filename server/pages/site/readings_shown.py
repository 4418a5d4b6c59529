"""The readings of a house: per place the newest of each kind, and two weeks of them drawn."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from babel.dates import format_skeleton
from markupsafe import Markup

from server.core.changes.rules_site import UNITS
from server.core.climate import series
from server.core.refusals import message
from server.core.rights import details_seen
from server.core.standing import places_of
from server.core.world import Place, Reading
from server.drawing.reading_chart import DAYS, ChartWords, Taken, Wanted, reading_chart
from server.pages.shared.opened import Opened
from server.pages.site.readings_wanted import Asked, asked_at
from server.people.viewer import Viewer


@dataclass(frozen=True)
class Newest:
    """The newest reading of a kind: its value, who read it when, and whether it is beyond what is
    wanted there now (`wanted` says that in words, with the work that wants it).
    """

    kind: str
    value: str
    said: str
    wanted: str
    beyond: bool


@dataclass(frozen=True)
class Drawn:
    """The readings of one kind at one spot over the last two weeks."""

    heading: str
    drawing: Markup


@dataclass(frozen=True)
class ReadingRow:
    """One reading of the last two weeks."""

    at: datetime
    said: str
    who: str


@dataclass(frozen=True)
class PlaceShown:
    """A place with what was read there."""

    id: str
    name: str
    newest: tuple[Newest, ...]
    drawn: tuple[Drawn, ...]
    rows: tuple[ReadingRow, ...]


@dataclass(frozen=True)
class ReadingsPage:
    """The places of the house that the viewer may stand in."""

    project_id: str
    house: str
    places: tuple[PlaceShown, ...]
    days: int
    back: str
    here: str


def readings_page(opened: Opened, viewer: Viewer) -> ReadingsPage:
    """All places for the super; for a crew those of the details that it works on."""
    return ReadingsPage(
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        places=tuple(_place(opened, place) for place in places_seen(opened, viewer)),
        days=DAYS,
        back=f"/p/{opened.project_id}" if viewer.actor.role == "super" else "/",
        here=f"/p/{opened.project_id}/readings",
    )


def places_seen(opened: Opened, viewer: Viewer) -> tuple[Place, ...]:
    """The places whose readings the viewer may see."""
    snapshot = opened.snapshot
    places = tuple(snapshot.places.values())
    if viewer.actor.role == "super":
        return places
    seen = details_seen(snapshot, viewer.actor)
    theirs = places_of(snapshot, (a.id for a in snapshot.chain if a.detail_id in seen))
    return tuple(place for place in places if place.id in theirs)


def _place(opened: Opened, place: Place) -> PlaceShown:
    asked = asked_at(opened.snapshot, opened.schedule, place.id)
    since = datetime.combine(opened.now.date() - timedelta(days=DAYS - 1), time(0))
    spots = {what: series(opened.snapshot, place.id, what, until=opened.now) for what in UNITS}
    lately = [r for found in spots.values() for spot in found for r in spot if r.at >= since]
    return PlaceShown(
        id=place.id,
        name=place.name,
        newest=tuple(_newest(opened, spots, asked)),
        drawn=tuple(_drawn(opened, place, spots, asked, since)),
        rows=tuple(
            _row(opened, reading)
            for reading in sorted(lately, key=lambda r: (r.at, r.id), reverse=True)
        ),
    )


def _newest(
    opened: Opened,
    spots: Mapping[str, tuple[tuple[Reading, ...], ...]],
    asked: Mapping[str, Asked],
) -> Iterator[Newest]:
    words, now = opened.words, opened.now
    for what, found in spots.items():
        last = max((r for spot in found for r in spot), key=lambda r: r.at, default=None)
        wanted = asked.get(what)
        if last is not None:
            yield Newest(
                kind=words.say(message("readings.kind", what=what)),
                value=words.length(last.value, last.unit),
                said=words.say(
                    message("readings.read", who=_who(opened, last), at=last.at), now=now
                ),
                wanted=_wanted_said(opened, wanted) if wanted else "",
                beyond=wanted is not None and not wanted.holds(last.value),
            )


def _wanted_said(opened: Opened, asked: Asked) -> str:
    """Between which numbers it is wanted, and by which work."""
    unit, words = UNITS[asked.what], opened.words
    limits = [
        words.say(message("readings.least", value=asked.low, unit=unit)) if asked.low else "",
        words.say(message("readings.most", value=asked.high, unit=unit)) if asked.high else "",
    ]
    return words.say(
        message("readings.wanted", band=words.listed([x for x in limits if x]), works=asked.works)
    )


def _drawn(
    opened: Opened,
    place: Place,
    spots: Mapping[str, tuple[tuple[Reading, ...], ...]],
    asked: Mapping[str, Asked],
    since: datetime,
) -> Iterator[Drawn]:
    """A drawing for each kind, for wood and plaster one for each spot; none of a single reading."""
    for what, found in spots.items():
        apart = found if what in ("wood", "plaster") else (tuple(r for s in found for r in s),)
        for spot in apart:
            lately = sorted((r for r in spot if r.at >= since), key=lambda r: r.at)
            if len(lately) < 2:
                continue
            where = lately[-1].where if len(apart) > 1 else ""
            kind = message("readings.kind", what=what)
            heading = message("readings.kind_at", kind=kind, where=where) if where else kind
            said = opened.words.say(heading)
            yield Drawn(said, _chart(opened, place, said, lately, asked.get(what)))


def _chart(
    opened: Opened, place: Place, heading: str, lately: Sequence[Reading], asked: Asked | None
) -> Markup:
    words, unit = opened.words, lately[-1].unit
    title = message(
        "readings.drawing", what=heading, place=place.name, n=len(lately), value=lately[-1].value,
        unit=unit,
    )  # fmt: skip
    return reading_chart(
        [Taken(one.at, one.value) for one in lately],
        Wanted(asked.low, asked.high) if asked else Wanted(None, None),
        opened.now.date(),
        ChartWords(
            title=words.say(title),
            value=lambda value: words.length(value, unit),
            least=lambda value: words.say(message("readings.least", value=value, unit=unit)),
            most=lambda value: words.say(message("readings.most", value=value, unit=unit)),
            day=lambda day: _short(opened, day),
        ),
    )


def _short(opened: Opened, day: date) -> str:
    """A day without its weekday, where there is little room."""
    return format_skeleton("MMMd", day, locale=opened.words.locale)


def _row(opened: Opened, reading: Reading) -> ReadingRow:
    kind = message("readings.kind", what=reading.what)
    said = message("readings.row", kind=kind, value=reading.value, unit=reading.unit)
    return ReadingRow(reading.at, opened.words.say(said), _who(opened, reading))


def _who(opened: Opened, reading: Reading) -> str:
    """Who read it, and at which spot."""
    person = opened.snapshot.people.get(reading.by_id)
    return ", ".join(part for part in (person.name if person else "", reading.where) if part)
