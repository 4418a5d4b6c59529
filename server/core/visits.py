"""Visits as they are looked up: which one counts for a task, and when one could be."""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from server.core.schedule import Activity as Work
from server.core.schedule import Network, Schedule, compute
from server.core.world import Activity, Booking, Snapshot
from server.core.world.hours import calendar_id_of, calendar_of, first_hour


def visit_for(snapshot: Snapshot, activity_id: str) -> Booking | None:
    """The visit for an activity; one that was refused counts only where there is no other."""
    visits = [b for b in snapshot.visits_of.get(activity_id, ()) if not b.ended]
    return min(visits, key=lambda b: (b.state == "can't come", b.start), default=None)


def wanted(snapshot: Snapshot, activity_id: str, status: datetime) -> tuple[Booking, ...]:
    """The visits asked for or coming for an activity that are not over, by their start."""
    found = (b for b in snapshot.visits_of.get(activity_id, ()) if is_open(b, status))
    return tuple(sorted(found, key=lambda b: b.start))


def is_open(visit: Booking, status: datetime) -> bool:
    """Whether a visit is asked for or coming, and not over."""
    return visit.ended is None and visit.state != "can't come" and visit.finish > status


def still_to_do(snapshot: Snapshot, visit: Booking) -> tuple[Activity, ...]:
    """The tasks of a visit that are in a chain and have not started, in the order of the chain."""
    tasks = (snapshot.activities[id] for id in visit.activity_ids)
    return tuple(
        a
        for a in sorted(tasks, key=lambda a: a.order)
        if not a.started and not a.finished and not a.ended
        if not snapshot.details[a.detail_id].ended
    )


def not_ready_for(snapshot: Snapshot, schedule: Schedule, visit: Booking) -> Activity | None:
    """The first task of an open visit that cannot be started when the crew comes.

    The first task of a visit has to be able to start on its first day, the others by its last.
    """
    tasks = still_to_do(snapshot, visit)
    if not tasks or not is_open(visit, schedule.status):
        return None
    first, *others = tasks
    dates = schedule[first.id]
    if not dates.ready and dates.early_start.date() > visit.start.date():
        return first
    last_day = visit.finish.date()
    return next((a for a in others if schedule[a.id].early_start.date() > last_day), None)


def first_day(snapshot: Snapshot, activity: Activity, ready: datetime) -> datetime:
    """The start of the first working day of its crew that lies wholly after `ready`."""
    midnight = datetime.combine(ready.date(), time(0))
    morning = first_hour(snapshot, activity, midnight)
    if morning >= ready:
        return morning
    return first_hour(snapshot, activity, midnight + timedelta(days=1))


def end_of(snapshot: Snapshot, tasks: Sequence[Activity], start: datetime) -> datetime:
    """When a visit that starts then has done all of these, one after the other.

    Never shorter than the crew's least visit.
    """
    calendar = calendar_of(snapshot, calendar_id_of(snapshot, tasks[0]))
    work = sum(task.remaining or task.work for task in tasks)
    done = compute(Network([Work("visit", work)], (), {"site": calendar}, start)).finish
    crew = snapshot.crews.get(tasks[0].crew_id or "")
    least = timedelta(minutes=crew.least_visit if crew else 0)
    return max(done, start + max(least, timedelta(minutes=1)))
