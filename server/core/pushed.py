"""What a change pushes: the dates that move, the visits it touches, the crews that must hear.

Two worlds are compared, each with its forecast as of the same status. `server.core.ripple` adds the
warnings that come and go.
"""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from server.core.promises import finish_of, promised
from server.core.schedule import Move, Schedule, moves
from server.core.visits import is_open, not_ready_for, still_to_do
from server.core.world import Activity, Booking, Snapshot
from server.core.world.hours import working_days

VisitChange = Literal["asked", "moves", "ends", "breaks", "fits again"]
What = Literal["asked", "moves", "ends", "breaks", "work"]


@dataclass(frozen=True)
class Shift:
    """An activity whose dates move; `days` working days of the site that it finishes later."""

    activity_id: str
    detail_id: str
    move: Move
    days: int


@dataclass(frozen=True)
class DetailShift:
    """How the finish of a detail moves, in working days of the site."""

    detail_id: str
    was: datetime
    now: datetime
    days: int


@dataclass(frozen=True)
class VisitShift:
    """A visit that is asked for, moves, ends, or no longer finds its work ready ("breaks").

    `was` and `now` are its start before and after. Of one that breaks, `now` is when its work is
    ready; one that "fits again" was too early before.
    """

    booking_id: str
    crew_id: str
    activity_ids: tuple[str, ...]
    what: VisitChange
    was: datetime | None
    now: datetime | None


@dataclass(frozen=True)
class ToHear:
    """One thing that a crew must hear; the fields are those of `world.Telling`.

    Of "work", `activity_ids` are all of it in one detail in the order in which it comes now, and
    `was` and `now` when the first of it begins.
    """

    crew_id: str
    what: What
    activity_ids: tuple[str, ...]
    booking_id: str | None
    was: datetime | None
    now: datetime | None


@dataclass(frozen=True)
class Pushed:
    """What moves from one world to another. Nothing moves where all of it is empty."""

    shifts: tuple[Shift, ...]
    details: tuple[DetailShift, ...]
    visits: tuple[VisitShift, ...]
    hear: tuple[ToHear, ...]

    @property
    def moves_something(self) -> bool:
        """Whether a day moves, a visit is touched or somebody has to hear of something."""
        days = any(s.days or s.move.before is None or s.move.after is None for s in self.shifts)
        return days or bool(self.visits or self.hear)

    @property
    def digest(self) -> str:
        """A short text that is the same for the same days, visits and crews.

        Days, not minutes: what was shown is still true when the status has gone on by a quarter of
        an hour and everything that waits for it with it.
        """
        facts = (
            sorted((s.activity_id, s.days) for s in self.shifts if s.days),
            sorted((v.booking_id, v.what, _day(v.now)) for v in self.visits),
            sorted((h.crew_id, h.what, h.activity_ids, _day(h.now)) for h in self.hear),
        )
        return hashlib.sha256(repr(facts).encode()).hexdigest()[:16]


def pushed(before: Snapshot, after: Snapshot, was: Schedule, now: Schedule) -> Pushed:
    """What moves between two worlds of one project, given the forecast of each."""
    visits = tuple(_visits(before, after, was, now))
    return Pushed(
        shifts=tuple(_shifts(before, after, was, now)),
        details=tuple(_details(before, after, was, now)),
        visits=visits,
        hear=tuple(_hear(after, was, now, visits)),
    )


def _shifts(before: Snapshot, after: Snapshot, was: Schedule, now: Schedule) -> Iterator[Shift]:
    """The worst first. What has happened does not move."""
    for move in moves(was, now):
        activity = (after if move.after else before).activities[move.activity]
        days = 0
        if move.before and move.after:
            first, second = move.before.early_finish, move.after.early_finish
            days = working_days(after, first.date(), second.date())
        yield Shift(activity.id, activity.detail_id, move, days)


def _details(
    before: Snapshot, after: Snapshot, was: Schedule, now: Schedule
) -> Iterator[DetailShift]:
    for id in after.details:
        first, second = finish_of(before, was, id), finish_of(after, now, id)
        if first is not None and second is not None and first != second:
            days = working_days(after, first.date(), second.date())
            yield DetailShift(id, first, second, days)


def _visits(
    before: Snapshot, after: Snapshot, was: Schedule, now: Schedule
) -> Iterator[VisitShift]:
    for id, visit in after.bookings.items():
        known = before.bookings.get(id)
        if visit is not known and (what := _touched(known, visit, now.status)):
            start = known.start if known else None
            yield _shift(visit, what, start, None if what == "ends" else visit.start)
            continue
        late = not_ready_for(after, now, visit)
        early = not_ready_for(before, was, known) if known else None
        if late is not None and early is None:
            yield _shift(visit, "breaks", visit.start, now[late.id].early_start)
        elif early is not None and late is None and _open_work(after, now, visit):
            yield _shift(visit, "fits again", visit.start, visit.start)


def _touched(
    known: Booking | None, visit: Booking, status: datetime
) -> Literal["asked", "moves", "ends"] | None:
    if known is None:
        return "asked" if is_open(visit, status) else None
    if visit.ended is not None:
        return "ends" if is_open(known, status) else None
    if not is_open(visit, status):
        return None
    if visit.start != known.start:
        return "moves"
    again = visit.state == "asked" and not is_open(known, status)
    return "asked" if again else None


def _open_work(snapshot: Snapshot, schedule: Schedule, visit: Booking) -> bool:
    return is_open(visit, schedule.status) and bool(still_to_do(snapshot, visit))


def _shift(
    visit: Booking, what: VisitChange, was: datetime | None, now: datetime | None
) -> VisitShift:
    return VisitShift(visit.id, visit.crew_id, visit.activity_ids, what, was, now)


def _hear(
    after: Snapshot, was: Schedule, now: Schedule, visits: tuple[VisitShift, ...]
) -> Iterator[ToHear]:
    """A crew hears of its visits; of work it has no visit for, when the promised day moves.

    All such work in one detail is one thing to hear, the first that comes before all else. Of a
    visit that fits again it hears where it has heard otherwise: it moves to when it was.
    """
    for visit in visits:
        what: What = "moves" if visit.what == "fits again" else visit.what
        if visit.what != "fits again" or _thinks_it_breaks(after, visit.booking_id):
            yield ToHear(
                visit.crew_id, what, visit.activity_ids, visit.booking_id, visit.was, visit.now
            )
    expected = {
        (visit.crew_id, id)
        for visit in after.bookings.values()
        if is_open(visit, now.status)
        for id in visit.activity_ids
    }
    expected |= {(visit.crew_id, id) for visit in visits for id in visit.activity_ids}
    for detail in after.details.values():
        if detail.ended is None:
            yield from _works(after, was, now, detail.id, expected)


def _thinks_it_breaks(snapshot: Snapshot, booking_id: str) -> bool:
    """Whether the last that a crew has heard of a visit is that its work is not ready."""
    heard = [t for t in snapshot.tellings.values() if t.booking_id == booking_id and t.heard]
    return bool(heard) and max(heard, key=lambda t: (t.heard or t.at, t.at)).what == "breaks"


def _works(
    after: Snapshot, was: Schedule, now: Schedule, detail_id: str, expected: set[tuple[str, str]]
) -> Iterator[ToHear]:
    """The promised work of one detail that moves, by crew, but for what a visit is expected for."""
    dates = promised(after, detail_id)
    moved: dict[str, list[str]] = {}
    for activity in after.chain_of(detail_id):
        if activity.id in dates and activity.id in was and _comes_another_day(activity, was, now):
            for crew_id in _crews(activity):
                if (crew_id, activity.id) not in expected:
                    moved.setdefault(crew_id, []).append(activity.id)
    for crew_id, ids in moved.items():
        first, *later = sorted(ids, key=lambda one: now[one].early_start)
        times = was[first].early_start, now[first].early_start
        yield ToHear(crew_id, "work", (first, *later), None, *times)


def _comes_another_day(activity: Activity, was: Schedule, now: Schedule) -> bool:
    if activity.kind != "task" or activity.started is not None:
        return False
    return was[activity.id].early_start.date() != now[activity.id].early_start.date()


def _crews(activity: Activity) -> tuple[str, ...]:
    return tuple(id for id in (activity.crew_id, *activity.with_crew_ids) if id)


def _day(at: datetime | None) -> str:
    return at.date().isoformat() if at else ""
