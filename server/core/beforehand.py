"""The day before a visit: is its work ready, are its parts here, is the place clear and warm."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import Literal

from server.core.deliveries import brought_for
from server.core.next import mover_of, waits_for
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import behind
from server.core.visits import groups_of, is_open, not_ready_for, not_there
from server.core.world import Activity, Booking, Reading, Snapshot
from server.core.world.hours import later_by

Readiness = Literal["ready", "in time", "waits", "late"]

COLD = Fraction(50)
"""Under so many °F air is too cold for wet work. That is common practice for plaster and mortar;
the maker's data sheet decides."""


@dataclass(frozen=True)
class Beforehand:
    """What is to be known the day before a visit.

    `work` is "ready" where nothing is in its way; "in time" where that goes on and is over by then;
    "waits" where nobody has begun it; "late" where it cannot be in time: then `ready_at` is when.
    `waits_for_id` is that one thing, `crew_id` or `person_id` whoever can move it.
    `missing_ids` are deliveries for it that are not here, `uncounted_ids` those here and not
    looked over, `here_ids` those in order. `there_ids` are the other crews asked to the same place
    at the same hours, where it has no room for all; `without_ids` those that its work is done with
    and that are not asked for its hours; `closed_id` the wait that closes the place then,
    `closed_till` until when. `air` is the newest reading there of today or yesterday.
    """

    work: Readiness
    waits_for_id: str | None
    crew_id: str | None
    person_id: str | None
    ready_at: datetime | None
    missing_ids: tuple[str, ...]
    uncounted_ids: tuple[str, ...]
    here_ids: tuple[str, ...]
    place_id: str | None
    there_ids: tuple[str, ...]
    without_ids: tuple[str, ...]
    closed_id: str | None
    closed_till: datetime | None
    wet: bool
    air: Reading | None

    @property
    def too_cold(self) -> bool:
        """Whether the air is too cold for the wet work of it."""
        return self.wet and self.air is not None and self.air.value < COLD


def next_day(snapshot: Snapshot, today: datetime) -> date:
    """The next day on which the site works."""
    return later_by(snapshot, today, 1).date()


def tomorrow(snapshot: Snapshot, schedule: Schedule) -> tuple[tuple[Booking, Beforehand], ...]:
    """The visits that begin by the next working day of the site, with what is to be known.

    On a Friday those are Monday's, and Saturday's if there are any.
    """
    today = schedule.status.date()
    last = next_day(snapshot, schedule.status)
    visits = sorted(
        (
            visit
            for visit in snapshot.bookings.values()
            if is_open(visit, schedule.status) and today < visit.start.date() <= last
        ),
        key=lambda visit: (visit.start, visit.crew_id),
    )
    return tuple(
        (visit, beforehand(snapshot, schedule, visit))
        for visit in visits
        if _tasks(snapshot, visit)
    )


def beforehand(snapshot: Snapshot, schedule: Schedule, visit: Booking) -> Beforehand:
    """Whether a visit finds what it needs: work before it done, parts here, the place its own."""
    tasks = _tasks(snapshot, visit)
    brought = list(brought_for(snapshot, [a.id for a in tasks]))
    places = places_of(snapshot, (a.id for a in sorted(tasks, key=lambda a: not a.wet)))
    late = not_ready_for(snapshot, schedule, visit)
    blocker = _waits_for(snapshot, schedule, tasks)
    crew_id, person_id = mover_of(snapshot, blocker, schedule) if blocker else (None, None)
    closing = _closing(snapshot, schedule, visit, places)
    return Beforehand(
        work=_work(late, blocker),
        waits_for_id=blocker.id if blocker else None,
        crew_id=crew_id,
        person_id=person_id,
        ready_at=schedule[late.id].early_start if late else None,
        missing_ids=tuple(a.id for a in brought if a.finished is None),
        uncounted_ids=tuple(a.id for a in brought if a.finished and a.counted is None),
        here_ids=tuple(a.id for a in brought if a.finished and a.counted),
        place_id=places[0] if places else None,
        there_ids=_there(snapshot, visit, places),
        without_ids=not_there(snapshot, visit),
        closed_id=closing.id if closing else None,
        closed_till=schedule[closing.id].early_finish if closing else None,
        wet=any(a.wet for a in tasks),
        air=_air(snapshot, places, schedule.status),
    )


def _tasks(snapshot: Snapshot, visit: Booking) -> tuple[Activity, ...]:
    """The tasks of a visit that are not done, in the order of the chain."""
    own = set(visit.activity_ids)
    return tuple(a for a in snapshot.chain if a.id in own and a.finished is None)


def _work(late: Activity | None, blocker: Activity | None) -> Readiness:
    if late is not None:
        return "late"
    if blocker is None:
        return "ready"
    goes_on = blocker.kind == "wait" or blocker.started is not None or blocker.ordered is not None
    return "in time" if goes_on else "waits"


def _waits_for(
    snapshot: Snapshot, schedule: Schedule, tasks: Sequence[Activity]
) -> Activity | None:
    """The one thing before a visit that is open; not the visit's own work, nor what follows it."""
    own = {a.id for a in tasks}.union(*(behind(snapshot, a.id) for a in tasks))
    for task in tasks:
        if task.started is not None:
            continue
        blocker = waits_for(snapshot, schedule, task)
        if blocker is not None and blocker.id not in own:
            return blocker
    return None


def _there(snapshot: Snapshot, visit: Booking, places: Sequence[str]) -> tuple[str, ...]:
    """Other crews there at the same hours, if that is more than some place has room for."""
    own = {visit.crew_id}.union(*(snapshot.activities[i].crew_ids for i in visit.activity_ids))
    found: dict[str, None] = {}
    for place_id in places:
        others = [
            other
            for other in snapshot.bookings.values()
            if other.ended is None and other.state != "can't come" and other.crew_id not in own
            if other.start < visit.finish and visit.start < other.finish
            if place_id in places_of(snapshot, (a.id for a in _tasks(snapshot, other)))
        ]
        if groups_of(others) >= snapshot.places[place_id].room_for:
            found |= dict.fromkeys(other.crew_id for other in others)
    return tuple(found)


def _closing(
    snapshot: Snapshot, schedule: Schedule, visit: Booking, places: Sequence[str]
) -> Activity | None:
    """The wait that closes a place of the visit longest; not one that the visit itself begins."""
    follows = frozenset[str]().union(*(behind(snapshot, id) for id in visit.activity_ids))
    found = [
        a
        for a in snapshot.chain
        if a.closes_place and a.id not in schedule.done and a.id not in follows
        if set(places_of(snapshot, (a.id,))).intersection(places)
        if schedule[a.id].early_start < visit.finish and visit.start < schedule[a.id].early_finish
    ]
    return max(found, key=lambda a: schedule[a.id].early_finish, default=None)


def _air(snapshot: Snapshot, places: Sequence[str], status: datetime) -> Reading | None:
    since = status.date() - timedelta(days=1)
    found = (
        reading
        for reading in snapshot.readings.values()
        if reading.what == "air" and reading.place_id in places[:1] and reading.at.date() >= since
    )
    return max(found, key=lambda reading: reading.at, default=None)
