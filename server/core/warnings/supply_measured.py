"""Warnings of measuring: too soon, and moved after."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from server.core.changes.actuals import TakeBack
from server.core.changes.base import Command
from server.core.changes.inputs import ids_after
from server.core.changes.plan import AddActivity, AddDependency, EndDependency
from server.core.measured import (
    before_measuring,
    begun_at,
    is_fitted,
    measured_again,
    measured_at,
    measuring,
    over_by,
)
from server.core.next import mover_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import ahead, behind
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about, facts_of
from server.core.world import Activity, Layer, Snapshot

SOON = "measured too soon"
SOON_TITLE = message("warning.measured_too_soon.title")
MOVED = "measured, then moved"
MOVED_TITLE = message("warning.measured_then_moved.title")


@warns(SOON, title=SOON_TITLE, bad="lost work", family="supply")
def measured_too_soon(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A template, order or check measured from a layer before that is in, dry and released.

    In fact; or nothing in the plan keeps it after that. Until it is measured again, or what was
    made from it is in.
    """
    for activity, layer in measuring(snapshot):
        needs = _too_soon_for(snapshot, schedule, activity, layer)
        if not needs or measured_again(snapshot, schedule, activity, needs):
            continue
        begun = begun_at(snapshot, activity)
        hold = snapshot.hold_of.get(activity.id)
        yield about(
            snapshot,
            SOON,
            _soon_said(activity, layer, needs, begun),
            (activity, *needs),
            facts=(begun, measured_at(snapshot, activity), *(a.id for a in needs)),
            at=begun or schedule[activity.id].early_start,
            layer_ids=(layer.id,),
            hold_id=hold.id if hold else None,
            who=mover_of(snapshot, activity, schedule),
            mends=list(_mends(snapshot, schedule, activity, layer, needs)),
        )


def _too_soon_for(
    snapshot: Snapshot, schedule: Schedule, activity: Activity, layer: Layer
) -> tuple[Activity, ...]:
    """What had to be over before it was measured, or has no order to it in the plan."""
    needs = before_measuring(snapshot, activity, layer)
    done = measured_at(snapshot, activity)
    if done is not None:
        late = tuple(a for a in needs if not over_by(schedule, a, done) and not a.rework_of_id)
        return () if late and is_fitted(snapshot, activity) else late
    open_now = tuple(a for a in needs if not over_by(schedule, a, None))
    if begun_at(snapshot, activity) is not None:
        return open_now
    first = ahead(snapshot, activity.id) if open_now else frozenset()
    return tuple(a for a in open_now if a.id not in first)


def _soon_said(
    activity: Activity, layer: Layer, needs: Sequence[Activity], begun: datetime | None
) -> Message:
    names = tuple(a.name for a in needs)
    if begun is None:
        return message(
            "warning.measured_too_soon.planned", work=activity.name, layer=layer.name, before=names
        )
    return message(
        "warning.measured_too_soon.done", work=activity.name, layer=layer.name, before=names
    )


@warns(MOVED, title=MOVED_TITLE, bad="lost work", family="supply")
def measured_then_moved(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The layer something was measured from was put in again, or opened up, after that.

    Until it is measured again, or what was made from it is in.
    """
    for activity, layer in measuring(snapshot):
        done = measured_at(snapshot, activity)
        if done is None:
            continue
        moved = _moved_since(snapshot, activity, layer, done)
        if not moved or is_fitted(snapshot, activity):
            continue
        if measured_again(snapshot, schedule, activity, moved):
            continue
        hold = snapshot.hold_of.get(activity.id)
        yield about(
            snapshot,
            MOVED,
            message(
                "warning.measured_then_moved.said",
                work=activity.name,
                layer=layer.name,
                when=done,
                moved=tuple(a.name for a in moved),
            ),
            (activity, *moved),
            facts=(done, *(f"{a.id} {a.started} {a.finished}" for a in moved)),
            at=min((a.started for a in moved if a.started), default=done),
            layer_ids=(layer.id,),
            hold_id=hold.id if hold else None,
            who=mover_of(snapshot, activity, schedule),
            mends=list(_mends(snapshot, schedule, activity, layer, moved)),
        )


def _moved_since(
    snapshot: Snapshot, activity: Activity, layer: Layer, done: datetime
) -> tuple[Activity, ...]:
    """Rework on a layer and what opened it, where that began or went on after it was measured."""
    tasks = {
        e.activity_id: snapshot.activities[e.activity_id]
        for e in snapshot.effects_on.get(layer.id, ())
        if e.verb == "opens" or (e.verb == "puts in" and _again(snapshot, e.activity_id))
    }
    return tuple(
        a
        for a in sorted(tasks.values(), key=lambda a: a.order)
        if a.id != activity.id and a.started is not None
        if a.finished is None or a.finished > done
    )


def _again(snapshot: Snapshot, activity_id: str) -> bool:
    return snapshot.activities[activity_id].rework_of_id is not None


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    activity: Activity,
    layer: Layer,
    needs: Sequence[Activity],
) -> Iterator[Mend]:
    """The order in the plan; taking back what has begun; measuring again; the check's page."""
    hold = snapshot.hold_of.get(activity.id)
    names = tuple(a.name for a in needs)
    if measured_at(snapshot, activity) is None or activity.kind == "delivery":
        commands = list(_in_order(snapshot, activity, needs))
        if begun_at(snapshot, activity) is not None and hold is None:
            commands.insert(0, TakeBack(activity_id=activity.id, reason=layer.name))
        label = message("warning.first_before", work=names, after=activity.name)
        yield Mend(label, tuple(commands))
    elif activity.kind == "task":
        label = message("warning.measure_again", work=activity.name, after=names)
        yield Mend(label, tuple(_once_more(snapshot, schedule, activity, needs)))
    if hold is not None:
        yield Mend(message("warning.open_check"), goto_hold_id=hold.id)


def _in_order(
    snapshot: Snapshot, activity: Activity, needs: Sequence[Activity]
) -> Iterator[Command]:
    """It comes after each of these, and none of these right after it."""
    ids = ids_after(activity.id, snapshot.dependencies)
    first, names = ahead(snapshot, activity.id), {a.id for a in needs}
    for dependency in snapshot.after.get(activity.id, ()):
        if dependency.after_id in names:
            yield EndDependency(dependency_id=dependency.id)
    for need in needs:
        if need.id not in first:
            yield AddDependency(id=next(ids), before_id=need.id, after_id=activity.id)


def _once_more(
    snapshot: Snapshot, schedule: Schedule, activity: Activity, needs: Sequence[Activity]
) -> Iterator[Command]:
    """The same measuring after these and before all that is still to come of the first."""
    id = next(ids_after(activity.id, snapshot.activities))
    facts = facts_of(snapshot, activity, not_before=None, finish_by=None)
    open_ids = [a.id for a in needs if not over_by(schedule, a, None)]
    yield AddActivity(
        id=id,
        detail_id=activity.detail_id,
        facts=facts,
        behind_id=needs[-1].id if needs[-1].detail_id == activity.detail_id else activity.id,
        after=(activity.id, *open_ids),
    )
    ids = ids_after(f"{id}d", snapshot.dependencies)
    for dependency in snapshot.after.get(activity.id, ()):
        after = snapshot.activities[dependency.after_id]
        later = behind(snapshot, after.id) | {after.id}
        if after.finished is None and not later.intersection(open_ids):
            yield AddDependency(id=next(ids), before_id=id, after_id=after.id)
