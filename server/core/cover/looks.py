"""What hides what: the tasks that cover what a check looks at, and the last look at it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from server.core.schedule import Schedule
from server.core.states import behind, hidden_parts, hold_state, is_released, looked_at
from server.core.visits import wanted
from server.core.world import Activity, Agreed, HoldPoint, Snapshot
from server.core.world.hours import calendar_of, working_minutes
from server.core.world.network import early_if_done

# Common practice, where the check does not say how long its look takes.
LOOK = 30
# Common practice, where nobody is known who would put it right: half a day.
REPAIR = 240

Why = Literal["under way", "visit", "promise", "forecast"]


@dataclass(frozen=True)
class LastLook:
    """The last moment before what a check looks at is covered, by what work, and what says so."""

    at: datetime
    work: Activity
    why: Why


def covering(snapshot: Snapshot, hold: HoldPoint) -> tuple[Activity, ...]:
    """The tasks that cover what a check looks at and is not OK, in the order of the chain.

    Not those that the check itself comes after: it looks at what they leave to see.
    """
    tasks = {
        work.id: work
        for layer_id in hold.layer_ids
        for effect in snapshot.effects_on.get(layer_id, ())
        if effect.verb == "covers"
        and (work := snapshot.activities[effect.activity_id]).ended is None
        and snapshot.details[work.detail_id].ended is None
    }
    found = (
        work
        for work in sorted(tasks.values(), key=lambda a: a.order)
        if hidden_parts(snapshot, work, hold) != frozenset()
        and hold.activity_id not in behind(snapshot, work.id)
    )
    return tuple(found)


def last_look(snapshot: Snapshot, schedule: Schedule, hold: HoldPoint) -> LastLook | None:
    """When what a check looks at, and is not OK, is covered next; None if nothing covers it.

    The earliest of the visits asked for a covering task, its promised start, and its forecast
    start as if the checks on those layers that wait to be made were released now: behind an open
    check the forecast alone would slide for ever.
    """
    return next(iter(looks(snapshot, schedule, hold)), None)


def looks(snapshot: Snapshot, schedule: Schedule, hold: HoldPoint) -> tuple[LastLook, ...]:
    """All that says when what a check looks at is covered, the earliest first.

    Visits and promises that have passed say nothing any more.
    """
    tasks = [a for a in covering(snapshot, hold) if a.finished is None]
    if not tasks:
        return ()
    released = _as_if_released(snapshot, schedule, hold, tasks)
    found = [look for work in tasks for look in _moments(snapshot, schedule, released, work)]
    return tuple(sorted(found, key=lambda look: look.at))


def time_needed(snapshot: Snapshot, schedule: Schedule, hold: HoldPoint) -> tuple[timedelta, int]:
    """What a look needs: notice still to run (clock), and looking and a repair (working minutes).

    A repair takes the least visit of the crew that did what is looked at.
    """
    notice = timedelta(minutes=hold.notice)
    if hold.called is not None:
        notice = max(timedelta(0), hold.called + notice - schedule.status)
    crews = [snapshot.crews.get(a.crew_id or "") for a in looked_at(snapshot, hold)]
    repair = max((crew.least_visit for crew in crews if crew), default=REPAIR)
    return notice, (snapshot.activities[hold.activity_id].work or LOOK) + repair


def enough_time(
    snapshot: Snapshot,
    schedule: Schedule,
    hold: HoldPoint,
    until: datetime,
    *,
    times: int = 1,
) -> bool:
    """Whether there is time before `until` for the notice, a look and a repair, so many times."""
    notice, work = time_needed(snapshot, schedule, hold)
    begin = schedule.status + notice * times
    site = calendar_of(snapshot, snapshot.project.calendar_id)
    return begin <= until and working_minutes(site, begin, until) >= work * times


def _as_if_released(
    snapshot: Snapshot, schedule: Schedule, hold: HoldPoint, tasks: Iterable[Activity]
) -> Schedule:
    """The forecast of tasks as if what waits to be looked at on a check's layers were OK now."""
    layers = set(hold.layer_ids)
    open_now = {
        other.activity_id
        for other in snapshot.holds.values()
        if layers.intersection(other.layer_ids)
        and not is_released(snapshot, other)
        and hold_state(snapshot, other, schedule) not in ("not yet", "rejected")
    }
    if not open_now:
        return schedule
    return early_if_done(schedule, open_now, [task.id for task in tasks if task.id in schedule])


def _moments(
    snapshot: Snapshot, schedule: Schedule, released: Schedule, work: Activity
) -> Iterator[LastLook]:
    """When a task may cover."""
    status = schedule.status
    if work.started is not None:
        yield LastLook(status, work, "under way")
        return
    for visit in wanted(snapshot, work.id, status):
        yield LastLook(max(visit.start, status), work, "visit")
    promised = [a for a in snapshot.agreed.values() if a.activity_id == work.id]
    newest: Agreed | None = max(promised, key=lambda a: a.round, default=None)
    if newest is not None and newest.start >= status:
        yield LastLook(newest.start, work, "promise")
    if work.id in released:
        yield LastLook(released[work.id].early_start, work, "forecast")
