"""Warnings of the air around wet work: too cold, too hot and dry, not read."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from server.core.changes.bookings import MoveVisit
from server.core.changes.held import super_of
from server.core.climate import air_of, newest, place_of
from server.core.coming import coming, later, notice_of
from server.core.drying import curing, stuff_of
from server.core.refusals import Message, Value, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.wanted_air import DRIES_SMALL, Wanted, wanted_by
from server.core.warnings.base import Bad, Mend, Warning, identity, warns
from server.core.world import Activity, Booking, Reading, Snapshot

COLD = "too cold"
COLD_TITLE = message("warning.too_cold.title")
HOT = "too hot and dry"
HOT_TITLE = message("warning.too_hot_and_dry.title")
UNREAD = "no reading"
UNREAD_TITLE = message("warning.no_reading.title")


@dataclass(frozen=True)
class Wet:
    """Wet work that the air matters to now, in a place. A visit, where only that brings it."""

    work: Activity
    place_id: str
    wants: Wanted
    visit: Booking | None
    until: datetime
    """The air has to be right for what comes by then."""


Wrong = Callable[[Wet, Reading], Fraction | None]


@warns(COLD, title=COLD_TITLE, bad="lost work", family="climate")
def too_cold(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Wet work is booked, under way or not dry where the newest reading is under what it wants."""
    for reading, works in _wrong(snapshot, schedule, "air", _under):
        yield _warning(snapshot, schedule, COLD, COLD_TITLE, "lost work", works, reading)


@warns(HOT, title=HOT_TITLE, bad="lost work", family="climate")
def too_hot_and_dry(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The same where it is over that, or for lime and cement the air too dry: they burn out."""
    for reading, works in _wrong(snapshot, schedule, "air", _over):
        yield _warning(snapshot, schedule, HOT, HOT_TITLE, "lost work", works, reading)
    for reading, works in _wrong(snapshot, schedule, "humidity", _too_dry):
        yield _warning(snapshot, schedule, HOT, HOT_TITLE, "lost work", works, reading)


@warns(UNREAD, title=UNREAD_TITLE, bad="watch", family="climate")
def no_reading(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The same where nobody has read the air, today or yesterday, there or in the same air.

    Not for glue and grout: a cold day is told of them, but nobody has to read the air for them.
    """
    by_air: dict[str, list[Wet]] = {}
    for wet in _wet(snapshot, schedule):
        if stuff_of(snapshot, wet.work) in DRIES_SMALL:
            continue
        if newest(snapshot, wet.place_id, "air", schedule.status) is None:
            by_air.setdefault(min(air_of(snapshot, wet.place_id)), []).append(wet)
    for works in by_air.values():
        yield _warning(snapshot, schedule, UNREAD, UNREAD_TITLE, "watch", works, None)


def _under(wet: Wet, reading: Reading) -> Fraction | None:
    low = wet.wants.air.low
    return low if low is not None and reading.value < low else None


def _over(wet: Wet, reading: Reading) -> Fraction | None:
    high = wet.wants.air.high
    return high if high is not None and reading.value > high else None


def _too_dry(wet: Wet, reading: Reading) -> Fraction | None:
    low = wet.wants.humidity.low if wet.wants.humidity else None
    return low if low is not None and reading.value < low else None


def _wrong(
    snapshot: Snapshot, schedule: Schedule, what: str, wrong: Wrong
) -> Iterator[tuple[Reading, list[Wet]]]:
    """Each reading that is wrong for some wet work, once, with that work."""
    found: dict[str, tuple[Reading, list[Wet]]] = {}
    for wet in _wet(snapshot, schedule):
        reading = newest(snapshot, wet.place_id, what, schedule.status)
        if reading is not None and wrong(wet, reading) is not None:
            found.setdefault(reading.id, (reading, []))[1].append(wet)
    yield from found.values()


def _wet(snapshot: Snapshot, schedule: Schedule) -> Iterator[Wet]:
    """Wet work under way or not dry, and what a crew comes for within its notice.

    That is also as long before it as its stuff wants the room to be right.
    """
    for work, wants in curing(snapshot, schedule):
        if place_id := place_of(snapshot, work):
            yield Wet(work, place_id, wants, None, schedule.status)
    for work in snapshot.chain:
        place_id = place_of(snapshot, work) if work.wet else None
        at_hand = coming(snapshot, schedule, work) if place_id else None
        if place_id is None or at_hand is None or at_hand.how == "soon":
            continue
        wants = wanted_by(stuff_of(snapshot, work))
        until = schedule.status + max(notice_of(snapshot, work), wants.ahead)
        if at_hand.at <= until:
            yield Wet(work, place_id, wants, at_hand.visit, until)


def _warning(
    snapshot: Snapshot,
    schedule: Schedule,
    rule: str,
    title: Message,
    bad: Bad,
    works: list[Wet],
    reading: Reading | None,
) -> Warning:
    ids = tuple(dict.fromkeys(wet.work.id for wet in works))
    person = super_of(snapshot)
    place_id = reading.place_id if reading else min(air_of(snapshot, works[0].place_id))
    what = reading.what if reading else "air"
    value = reading.value if reading else None
    return Warning(
        rule=rule,
        bad=bad,
        title=title,
        sentence=_sentence(snapshot, rule, works, reading),
        subject=(place_id, what),
        identity=identity(rule, place_id, what, value, *sorted(ids)),
        at=schedule.status,
        detail_id=works[0].work.detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        person_id=person.id if person else None,
        mends=tuple(_later(snapshot, schedule, works)),
    )


def _sentence(snapshot: Snapshot, rule: str, works: list[Wet], reading: Reading | None) -> Message:
    names = tuple(dict.fromkeys(wet.work.name for wet in works))
    if reading is None:
        place = snapshot.places[works[0].place_id].name
        return message("warning.no_reading.said", place=place, work=names)
    wrong = {COLD: _under}.get(rule, _over if reading.what == "air" else _too_dry)
    limits = [limit for wet in works if (limit := wrong(wet, reading)) is not None]
    values: dict[str, Value] = {
        "place": snapshot.places[reading.place_id].name,
        "work": names,
        "at": reading.at,
        "value": reading.value,
        "unit": reading.unit,
        "limit": min(limits) if wrong is _over else max(limits),
    }
    if rule == COLD:
        return message("warning.too_cold.said", **values)
    if reading.what == "air":
        return message("warning.too_hot_and_dry.hot", **values)
    return message("warning.too_hot_and_dry.dry", **values)


def _later(snapshot: Snapshot, schedule: Schedule, works: list[Wet]) -> Iterator[Mend]:
    """Each crew asked for a day that leaves its notice, and the room its time to be right.

    Nothing can be pressed for what is on the wall or under way: it wants the room made right.
    """
    moves: dict[str, tuple[str, datetime, MoveVisit]] = {}
    for wet in works:
        move = later(snapshot, schedule, wet.visit, wet.until) if wet.visit else None
        if wet.visit is None or move is None:
            return
        moves[wet.visit.id] = (snapshot.crews[wet.visit.crew_id].name, *move)
    crews = tuple(dict.fromkeys(crew for crew, _, _ in moves.values()))
    day = max(start for _, start, _ in moves.values())
    commands = tuple(command for _, _, command in moves.values())
    yield Mend(message("warning.move_visit", crew=crews, day=day), commands)
