"""Mends that the warnings of places share: a crew on another day, a thing that is put in."""

from collections.abc import Collection, Sequence
from datetime import datetime, time, timedelta

from server.core.changes import Command
from server.core.changes.actuals import AddTemporary, LookAtTemporary
from server.core.changes.bookings import MoveVisit
from server.core.changes.inputs import ids_after
from server.core.changes.pushing import PutOff
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.shifts import end_after, hours_of_crew
from server.core.standing import Stand
from server.core.visits import first_day, is_open
from server.core.warnings.base import Mend
from server.core.world import Activity, Booking, Place, Snapshot, TemporaryWork
from server.core.world.hours import calendar_id_of, calendar_of, working_minutes

DAYS = 45
"""How many days ahead a crew is looked for another day."""


def elsewhen(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    stand: Stand,
    places: Collection[str],
    *,
    room: int = 1,
    after: datetime | None = None,
) -> Mend | None:
    """A crew on its next day on which fewer than `room` other crews are in any of these places.

    Its visits are asked for then, with those of crews that do the same task with it; what is only
    forecast is put off. Never what is under way. Not before `after`. None where there is no such
    day.
    """
    if stand.why == "under way":
        return None
    own = set(stand.activity_ids)
    others = [s for s in stands if not own.intersection(s.activity_ids)]
    visits = _visits(snapshot, schedule, stand)
    task = snapshot.activities[stand.activity_ids[0]]
    since = max(stand.start, schedule.status, after or schedule.status)
    for ahead in range(DAYS):
        day = datetime.combine(since.date() + timedelta(days=ahead), time(0))
        start = first_day(snapshot, task, day)
        if start.date() != day.date() or start <= max(since, stand.start):
            continue
        finish = max(end for _, end in _spans(snapshot, task, visits, start))
        there = [s for s in others if s.start < finish and start < s.finish]
        if any(s.crew_id == stand.crew_id for s in there):
            continue
        if len({s.crew_id for s in there if s.place_id in places}) < room:
            return _then(snapshot, stand, task, visits, start)
    return None


def _visits(snapshot: Snapshot, schedule: Schedule, stand: Stand) -> list[Booking]:
    """The visits that a stand comes from, and those of the crews that do its tasks with it then."""
    own = set(stand.activity_ids)
    joint = (
        visit
        for visit in snapshot.bookings.values()
        if visit.id not in stand.visit_ids and own.intersection(visit.activity_ids)
        if is_open(visit, schedule.status)
        if visit.start < stand.finish and stand.start < visit.finish
    )
    return [*(snapshot.bookings[id] for id in stand.visit_ids), *joint]


def _spans(
    snapshot: Snapshot, task: Activity, visits: Sequence[Booking], start: datetime
) -> list[tuple[Booking | None, datetime]]:
    """When each visit is over if it begins then, as long in working time as it was."""
    if not visits:
        hours = calendar_of(snapshot, calendar_id_of(snapshot, task))
        return [(None, end_after(hours, start, task.work))]
    found: list[tuple[Booking | None, datetime]] = []
    for visit in visits:
        hours = hours_of_crew(snapshot, snapshot.crews[visit.crew_id])
        minutes = working_minutes(hours, visit.start, visit.finish)
        long = visit.finish - visit.start
        found.append((visit, end_after(hours, start, minutes) if minutes else start + long))
    return found


def _then(
    snapshot: Snapshot, stand: Stand, task: Activity, visits: Sequence[Booking], start: datetime
) -> Mend:
    if not visits:
        return Mend(
            message("warning.put_off", work=task.name, day=start),
            tuple(PutOff(activity_id=id, until=start) for id in stand.activity_ids),
        )
    crews = tuple(dict.fromkeys(snapshot.crews[visit.crew_id].name for visit in visits))
    commands: list[Command] = [
        MoveVisit(booking_id=visit.id, start=start, finish=finish)
        for visit, finish in _spans(snapshot, task, visits, start)
        if visit is not None
    ]
    return Mend(
        message("warning.move_visit", crew=crews if len(crews) > 1 else crews[0], day=start),
        tuple(commands),
    )


def put_in(
    snapshot: Snapshot,
    schedule: Schedule,
    kind: str,
    place: Place | None,
    *,
    detail_id: str | None = None,
    crew_id: str | None = None,
    base: str,
) -> tuple[Command, ...]:
    """A temporary work is in and was looked at: what is put in for people is looked at first."""
    id = next(ids_after(f"{base}{kind}", snapshot.temporary))
    detail = snapshot.details.get(detail_id or "")
    where = place or detail or snapshot.project
    return (
        AddTemporary(
            id=id,
            kind=kind,
            name=where.name,
            detail_id=detail_id,
            place_id=place.id if place else None,
            crew_id=crew_id,
            put_in=schedule.status,
        ),
        LookAtTemporary(id=next(ids_after(id, snapshot.looks)), temporary_id=id),
    )


def is_in(work: TemporaryWork, at: datetime) -> bool:
    """Whether a temporary work is in: put in by then and not taken out."""
    return work.put_in is not None and work.put_in <= at and work.taken_out is None


def place_of_temporary(snapshot: Snapshot, work: TemporaryWork) -> str | None:
    """The place of a temporary work: its own, else its detail's."""
    detail = snapshot.details.get(work.detail_id or "")
    return work.place_id or (detail.place_id if detail else None)


def in_place(
    snapshot: Snapshot, kinds: Collection[str], places: Collection[str | None], at: datetime
) -> bool:
    """Whether a temporary work of one of these kinds is in, in one of these places."""
    return any(
        work.kind in kinds and is_in(work, at) and place_of_temporary(snapshot, work) in places
        for work in snapshot.temporary.values()
    )
