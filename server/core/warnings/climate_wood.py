"""The warning of finish wood that comes into a wet house."""

from collections.abc import Iterable, Iterator, Sequence

from server.core.changes.held import super_of
from server.core.climate import air_of
from server.core.drying import Dry, dry, wet_in_air
from server.core.finish_wood import Against, Wood, against, at_hand, wood_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import ahead
from server.core.warnings.base import Bad, Warning, identity, warns
from server.core.warnings.climate_wood_mends import last_wet, mends
from server.core.world import Snapshot

RULE = "wood into a wet house"
TITLE = message("warning.wood_wet_house.title")

Found = tuple[Wood, Against]


@warns(RULE, title=TITLE, bad="lost work", family="climate")
def wood_into_a_wet_house(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Finish wood is brought or fitted before the last wet work in the same air is dry.

    By a visit, a supplier's promise, the forecast, or in fact. Once it is near, also where no meter
    check in that air was released since it dried, or the air of the last week is not as wood wants
    it. Bringing and fitting the same wood is told once: of bringing it, till it is in. What the
    forecast alone says is watched: of all such wood in one air in one note, and of wood that is in,
    while nobody comes for the wet work yet.
    """
    forecast: dict[str, list[Found]] = {}
    for wood, found in _once(snapshot, list(_all(snapshot, schedule))):
        if wood.said or wood.is_in or found.unmetered or found.air:
            yield _told(snapshot, schedule, wood, found)
        else:
            air = snapshot.places[wood.place_id].air
            forecast.setdefault(air, []).append((wood, found))
    for together in forecast.values():
        yield _forecast(snapshot, schedule, together)


def _all(snapshot: Snapshot, schedule: Schedule) -> Iterator[Found]:
    drying: dict[str, tuple[Dry, ...]] = {}
    for work in snapshot.chain:
        wood = wood_of(snapshot, schedule, work)
        if wood is None:
            continue
        air = snapshot.places[wood.place_id].air
        if air not in drying:
            wet = wet_in_air(snapshot, wood.place_id)
            drying[air] = tuple(dry(snapshot, schedule, coat) for coat in wet)
        found = against(snapshot, schedule, wood, drying[air])
        if found.any:
            yield wood, found


def _once(snapshot: Snapshot, everything: Sequence[Found]) -> Iterator[Found]:
    """Without wood that is told well enough by what comes before it, or once in, after it."""
    before = {wood.work.id: ahead(snapshot, wood.work.id) for wood, _ in everything}
    for wood, found in everything:
        id = wood.work.id
        others = (
            more
            for other, more in everything
            if (other.work.id in before[id] and not other.is_in)
            or (wood.is_in and id in before[other.work.id])
        )
        if not any(_within(found, more) for more in others):
            yield wood, found


def _within(one: Against, other: Against) -> bool:
    """Whether all that speaks against one wood speaks against another too."""
    return (
        {wet.coat.id for wet in one.wet} <= {wet.coat.id for wet in other.wet}
        and (other.unmetered or not one.unmetered)
        and {what for what, *_ in one.air} <= {what for what, *_ in other.air}
    )


def _told(snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against) -> Warning:
    """Of wood that is in or on its way, or that somebody is asked for, or that is near."""
    work = wood.work
    ids = (work.id, *(one.coat.id for one in found.wet))
    person = super_of(snapshot)
    grave = not wood.is_in or found.unmetered or found.air
    bad: Bad = "lost work" if grave or at_hand(snapshot, schedule, found.wet) else "watch"
    facts = (
        bad,
        wood.is_in,
        work.promised,
        *((visit.id, visit.start) for visit in wood.visits),
        *sorted(ids),
        found.unmetered,
        *((what, band.off(value) > 0) for what, value, band in found.air),
    )
    return Warning(
        rule=RULE,
        bad=bad,
        title=TITLE,
        sentence=_sentence(wood, found),
        subject=(work.id,),
        identity=identity(RULE, *facts),
        at=wood.at,
        detail_id=work.detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        crew_id=work.crew_id,
        person_id=person.id if person and not work.crew_id else None,
        mends=tuple(mends(snapshot, schedule, ((wood, found),))),
    )


def _forecast(snapshot: Snapshot, schedule: Schedule, together: Sequence[Found]) -> Warning:
    """Of all wood in one air that the forecast brings too early."""
    first, found = min(together, key=lambda pair: pair[0].at)
    last = last_wet(found)
    ids = (*(wood.work.id for wood, _ in together), last.coat.id)
    person = super_of(snapshot)
    return Warning(
        rule=RULE,
        bad="watch",
        title=TITLE,
        sentence=message(
            "warning.wood_wet_house.forecast",
            wood=tuple(wood.work.name for wood, _ in together),
            coat=last.coat.name,
            dry=last.at,
        ),
        subject=(min(air_of(snapshot, first.place_id)),),
        identity=identity(RULE, "watch", *sorted(ids)),
        at=first.at,
        detail_id=first.work.detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        person_id=person.id if person else None,
        mends=tuple(mends(snapshot, schedule, together)),
    )


def _sentence(wood: Wood, found: Against) -> Message:
    said = tuple(_said(found))
    if not wood.is_in:
        id = "warning.wood_wet_house.comes"
    elif wood.work.kind == "delivery":
        id = "warning.wood_wet_house.is_in"
    else:
        id = "warning.wood_wet_house.begun"
    return message(id, wood=wood.work.name, at=wood.at, against=said)


def _said(found: Against) -> Iterator[Message]:
    """Each thing that speaks against it; of wet work the last that dries."""
    if found.wet:
        last = last_wet(found)
        yield message("warning.wood_wet_house.wet", coat=last.coat.name, dry=last.at)
    if found.unmetered:
        yield message("warning.wood_wet_house.unmetered")
    for what, value, band in found.air:
        yield message(
            "warning.wood_wet_house.average",
            what=what,
            value=value,
            low=band.low,
            high=band.high,
            unit="°F" if what == "air" else "%",
        )
