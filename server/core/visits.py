"""Visits as they are looked up: which one counts for a task, and when one could be."""

from collections.abc import Iterable, Sequence
from datetime import datetime, time, timedelta

from server.core.schedule import Activity as Work
from server.core.schedule import Network, Schedule, compute
from server.core.world import Activity, Booking, Snapshot
from server.core.world.hours import first_hour, joint_hours, joint_key


def visit_for(snapshot: Snapshot, activity_id: str) -> Booking | None:
    """The visit for an activity; one that was refused counts only where there is no other.

    Work that crews do together goes when the last of them is there, and not while one can't come:
    of the visits of its crews that one counts.
    """
    crews = snapshot.activities[activity_id].crew_ids
    if len(crews) < 2:
        return _soonest(b for b in snapshot.visits_of.get(activity_id, ()) if not b.ended)
    own = (visit_of_crew(snapshot, activity_id, crew_id) for crew_id in crews)
    visits = [visit for visit in own if visit is not None]
    return max(visits, key=lambda b: (b.state == "can't come", b.start), default=None)


def visit_of_crew(snapshot: Snapshot, activity_id: str, crew_id: str) -> Booking | None:
    """The visit of one crew for an activity, chosen as in `visit_for`."""
    visits = snapshot.visits_of.get(activity_id, ())
    return _soonest(b for b in visits if not b.ended and b.crew_id == crew_id)


def not_there(snapshot: Snapshot, visit: Booking) -> tuple[str, ...]:
    """The crews without which work of a visit cannot go, and that are not asked for its hours."""
    found: dict[str, None] = {}
    for activity in still_to_do(snapshot, visit):
        for crew_id in activity.crew_ids:
            others = snapshot.visits_of.get(activity.id, ())
            there = any(
                b.crew_id == crew_id and b.ended is None and b.state != "can't come"
                and b.start < visit.finish and visit.start < b.finish
                for b in others
            )  # fmt: skip
            if crew_id != visit.crew_id and visit.crew_id in activity.crew_ids and not there:
                found[crew_id] = None
    return tuple(found)


def groups_of(visits: Iterable[Booking]) -> int:
    """How many crews visits bring to a place: crews that do one task together count as one."""
    groups: list[set[str]] = []
    for visit in visits:
        ids = {visit.crew_id, *visit.activity_ids}
        groups = [g for g in groups if not g & ids] + [ids.union(*(g for g in groups if g & ids))]
    return len(groups)


def _soonest(visits: Iterable[Booking]) -> Booking | None:
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
        for a in sorted(tasks, key=lambda a: (snapshot.details[a.detail_id].order, a.order))
        if not a.started and not a.finished and not a.ended
        if not snapshot.details[a.detail_id].ended
    )


def not_ready_for(snapshot: Snapshot, schedule: Schedule, visit: Booking) -> Activity | None:
    """The first task of an open visit that cannot be started when the crew comes.

    The first task of a visit has to be able to start on its first day, the others by its last. The
    first is whichever is ready first: of several details one is as good to begin with as another.
    """
    tasks = still_to_do(snapshot, visit)
    if not tasks or not is_open(visit, schedule.status):
        return None
    first = min(tasks, key=lambda a: schedule[a.id].early_start)
    others = [a for a in tasks if a is not first]
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


def end_of(
    snapshot: Snapshot, tasks: Sequence[Activity], start: datetime, crew_id: str | None = None
) -> datetime:
    """When a visit that starts then has done all of these, one after the other.

    In the hours that all crews of the first have in common. Never shorter than the least visit of
    the crew that comes; where none is named, that of the first.
    """
    calendar = joint_hours(snapshot, joint_key(snapshot, tasks[0]))
    work = sum(task.remaining or task.work for task in tasks)
    done = compute(Network([Work("visit", work)], (), {"site": calendar}, start)).finish
    crew = snapshot.crews.get(crew_id or tasks[0].crew_id or "")
    least = timedelta(minutes=crew.least_visit if crew else 0)
    return max(done, start + max(least, timedelta(minutes=1)))
