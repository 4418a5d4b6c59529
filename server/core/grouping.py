"""Short tasks of one crew that could be done in one coming, over all details of a house."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from server.core.schedule import Schedule
from server.core.states import ahead, behind
from server.core.visits import end_of, first_day, wanted
from server.core.world import Activity, Crew, Snapshot

WITHIN = timedelta(days=2)
"""So near one another tasks have to be ready. Common practice: a crew waits a day or two to make
one trip of it."""


@dataclass(frozen=True)
class OneVisit:
    """Tasks in the order of the chain that a crew could do in one visit, and when."""

    tasks: tuple[Activity, ...]
    start: datetime
    finish: datetime


def one_visit(snapshot: Snapshot, schedule: Schedule, crew: Crew) -> OneVisit | None:
    """The most short tasks of a crew that are ready within a day or two, and fit in a day.

    Short is less than the crew's least visit. Only what nobody is asked for yet, alone or with
    others, and only where nothing of others has to come between. Of several such sets the largest,
    then the soonest; None if there are not two of them.
    """
    short = sorted(
        (a for a in snapshot.chain if _is_short(snapshot, schedule, crew, a)),
        key=lambda a: schedule[a.id].early_start,
    )
    found: list[OneVisit] = []
    for index, first in enumerate(short):
        until = schedule[first.id].early_start + WITHIN
        near = [a for a in short[index:] if schedule[a.id].early_start <= until]
        while len(near) > 1:
            visit = _visit(snapshot, schedule, crew, near)
            if visit is not None:
                found.append(visit)
                break
            near.pop()
    return max(found, key=lambda visit: len(visit.tasks), default=None)


def _is_short(snapshot: Snapshot, schedule: Schedule, crew: Crew, activity: Activity) -> bool:
    return (
        activity.kind == "task"
        and crew.id in activity.crew_ids
        and activity.started is None
        and activity.finished is None
        and activity.work < crew.least_visit
        and not any(v.crew_id == crew.id for v in wanted(snapshot, activity.id, schedule.status))
    )


def _visit(
    snapshot: Snapshot, schedule: Schedule, crew: Crew, near: list[Activity]
) -> OneVisit | None:
    ids = {a.id for a in near}
    for task in near:
        between = behind(snapshot, task.id)
        if any(
            (between & ahead(snapshot, other.id)) - ids for other in near if other.id in between
        ):
            return None
    # when the last is ready that does not wait for another of them
    ready = [schedule[a.id].early_start for a in near if not ids & ahead(snapshot, a.id)]
    last = near[-1]
    start = first_day(snapshot, last, max([*ready, schedule.status + timedelta(minutes=1)]))
    tasks = tuple(a for a in snapshot.chain if a.id in ids)
    finish = end_of(snapshot, tasks, start, crew.id)
    return OneVisit(tasks, start, finish) if finish.date() == start.date() else None
