"""What stands before an activity: what is still open, and the checks that hold its start."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from server.core.schedule import Schedule
from server.core.world import Activity, Dependency, HoldPoint, Snapshot


def open_before(
    snapshot: Snapshot, activity_id: str, schedule: Schedule | None = None, *, finish: bool = False
) -> tuple[Activity, ...]:
    """What has to be done (or begun, where only its start counts) before this, and is not.

    Before its start; with `finish`, before it may be done. A check is a look without length: what
    holds either end of it is before it. A wait counts as done when the schedule says that it has
    run out; without a schedule, when it is recorded.
    """
    either = snapshot.activities[activity_id].kind == "hold"
    found: dict[str, Activity] = {}
    for dependency in binding(snapshot, activity_id):
        if not either and (dependency.type[1] == "F") != finish:
            continue
        before = snapshot.activities[dependency.before_id]
        done = before.finished is not None or (schedule is not None and before.id in schedule.done)
        begun = done or before.started is not None or before.ordered is not None
        if not (done if dependency.type[0] == "F" else begun):
            found[before.id] = before
    return tuple(found.values())


def too_soon(
    snapshot: Snapshot, schedule: Schedule, activity_id: str, when: datetime
) -> tuple[Activity, datetime] | None:
    """What is done or begun before this, but only later than `when`, and from when on it counts.

    That includes the clock time that must lie between the two. None if nothing is so.
    """
    latest: tuple[Activity, datetime] | None = None
    for dependency in binding(snapshot, activity_id):
        if dependency.type[1] == "F":
            continue
        before = snapshot.activities[dependency.before_id]
        dates = schedule[before.id]
        end = before.finished or dates.early_finish
        if dependency.type[0] == "S":
            end = before.started or dates.early_start
        if dependency.lag_on == "clock":
            end += timedelta(minutes=dependency.lag)
        if end > when and (latest is None or end > latest[1]):
            latest = before, end
    return latest


def holding(snapshot: Snapshot, activity_id: str) -> tuple[HoldPoint, ...]:
    """The unreleased checks on a path to an activity whose last dependency holds its start.

    However far before they lie, through what is done too: what is behind them must be seen. In the
    order of the chain, so the nearest is last.
    """
    starts = [d.before_id for d in binding(snapshot, activity_id) if d.type[1] == "S"]
    reached = {*starts, *(id for start in starts for id in ahead(snapshot, start))}
    found = (
        hold
        for a in snapshot.chain
        if a.id in reached and a.finished is None
        if (hold := snapshot.hold_of.get(a.id)) is not None and not hold.witness
    )
    return tuple(found)


def behind(snapshot: Snapshot, activity_id: str) -> frozenset[str]:
    """The ids of all that comes after an activity, by whatever dependencies."""
    found: set[str] = set()
    open_ids = [activity_id]
    while open_ids:
        for dependency in snapshot.after.get(open_ids.pop(), ()):
            if dependency.after_id not in found:
                found.add(dependency.after_id)
                open_ids.append(dependency.after_id)
    return frozenset(found)


def ahead(snapshot: Snapshot, activity_id: str) -> frozenset[str]:
    """The ids of all that comes before an activity, by whatever dependencies."""
    found: set[str] = set()
    open_ids = [activity_id]
    while open_ids:
        for dependency in snapshot.before.get(open_ids.pop(), ()):
            if dependency.before_id not in found:
                found.add(dependency.before_id)
                open_ids.append(dependency.before_id)
    return frozenset(found)


def binding(snapshot: Snapshot, activity_id: str) -> Iterator[Dependency]:
    """The dependencies that lead to an activity from what is in a chain.

    An invited look stops nobody; what it comes after stands in its place.
    """
    for dependency in snapshot.before.get(activity_id, ()):
        before = snapshot.activities[dependency.before_id]
        if before.ended is not None or snapshot.details[before.detail_id].ended is not None:
            continue
        hold = snapshot.hold_of.get(before.id)
        if hold is None or not hold.witness:
            yield dependency
            continue
        for first in binding(snapshot, before.id):
            yield Dependency(
                id=dependency.id,
                project_id=dependency.project_id,
                before_id=first.before_id,
                after_id=activity_id,
                type=first.type[0] + dependency.type[1],
            )
