"""What is measured from a layer: what has to be over before, when it was, what is made from it."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from server.core.deliveries import needed_for
from server.core.schedule import Schedule
from server.core.states import ahead, behind, live_attempts, looked_at
from server.core.world import Activity, Layer, Snapshot


def measuring(snapshot: Snapshot) -> Iterator[tuple[Activity, Layer]]:
    """What is measured from a layer, and that layer, in the order of the chain.

    A delivery that is made from an earlier template of the same layer is not measured itself.
    """
    for activity in snapshot.chain:
        layer = snapshot.layers.get(activity.measured_from_id or "")
        if layer is None or layer.ended is not None:
            continue
        if activity.kind == "delivery" and any(
            snapshot.activities[id].measured_from_id == layer.id
            for id in ahead(snapshot, activity.id)
        ):
            continue
        yield activity, layer


def begun_at(snapshot: Snapshot, activity: Activity) -> datetime | None:
    """When measuring began: a task's start, an order, a check's first mark that counts."""
    return _moment(snapshot, activity, activity.started, 0)


def measured_at(snapshot: Snapshot, activity: Activity) -> datetime | None:
    """When it was measured: a task's finish, an order, a check's last mark that counts."""
    return _moment(snapshot, activity, activity.finished, -1)


def before_measuring(snapshot: Snapshot, activity: Activity, layer: Layer) -> tuple[Activity, ...]:
    """What has to be over before a layer can be measured from.

    The tasks that put it in, the waits right after those, and the checks on it that come before the
    measuring. If the plan has none of them there, the first check on it; later ones look at other
    things too.
    """
    tasks = put_in(snapshot, layer)
    found = {a.id: a for a in (*tasks, *_waits(snapshot, tasks)) if a.id != activity.id}
    checks = list(_checks(snapshot, activity, layer, tasks))
    first = ahead(snapshot, activity.id) if checks else frozenset()
    for check in [a for a in checks if a.id in first] or checks[:1]:
        found[check.id] = check
    return tuple(sorted(found.values(), key=lambda a: a.order))


def put_in(snapshot: Snapshot, layer: Layer) -> tuple[Activity, ...]:
    """The tasks that put a layer in, rework too, in the order of the chain."""
    effects = snapshot.effects_on.get(layer.id, ())
    tasks = {
        e.activity_id: snapshot.activities[e.activity_id] for e in effects if e.verb == "puts in"
    }
    return tuple(a for a in sorted(tasks.values(), key=lambda a: a.order) if _stands(snapshot, a))


def over_by(schedule: Schedule, activity: Activity, when: datetime | None) -> bool:
    """Whether something was over then (None: is over now). A wait ends by itself."""
    if activity.finished is not None:
        return when is None or activity.finished <= when
    if activity.id not in schedule.done:
        return False
    return when is None or schedule[activity.id].early_finish <= when


def measured_again(
    snapshot: Snapshot, schedule: Schedule, activity: Activity, needs: Iterable[Activity]
) -> bool:
    """Whether the same layer is measured once more, after these, before what comes of it.

    That stands behind the first measuring, and all else that is behind that and open, behind it.
    """
    later = behind(snapshot, activity.id)
    open_after = {
        d.after_id
        for d in snapshot.after.get(activity.id, ())
        if snapshot.activities[d.after_id].finished is None
    }
    for second in snapshot.chain:
        if second.id not in later or second.kind != "task":
            continue
        if second.measured_from_id != activity.measured_from_id:
            continue
        first, then = ahead(snapshot, second.id), measured_at(snapshot, second)
        after = behind(snapshot, second.id)
        in_time = all(over_by(schedule, a, then) or (then is None and a.id in first) for a in needs)
        if in_time and all(id in after for id in open_after - {second.id} - first):
            return True
    return False


def is_fitted(snapshot: Snapshot, activity: Activity) -> bool:
    """Whether all that was made from a measuring is in: too late to ask where it came from."""
    made = _made(snapshot, activity)
    fitting = {a.id: a for one in made or [activity] for a in needed_for(snapshot, one)}
    if not fitting:
        return bool(made) and all(a.finished is not None for a in made)
    return all(a.finished is not None for a in fitting.values())


def _moment(
    snapshot: Snapshot, activity: Activity, of_task: datetime | None, which: int
) -> datetime | None:
    if activity.kind == "delivery":
        return activity.measured or activity.ordered or activity.finished
    hold = snapshot.hold_of.get(activity.id)
    if hold is None:
        return of_task
    attempts = live_attempts(snapshot, hold)
    return attempts[which].marked_at if attempts else activity.finished


def _checks(
    snapshot: Snapshot, activity: Activity, layer: Layer, tasks: Iterable[Activity]
) -> Iterator[Activity]:
    """The checks on a layer, in the order of the chain, that may come before it is measured from.

    Not those behind the measuring, unless all of the layer is; nor those that also look at what is
    put in behind it; nor invited looks.
    """
    later, own = behind(snapshot, activity.id), {a.id for a in tasks}
    turned_round = bool(own & later)
    for hold in snapshot.looking_at.get(layer.id, ()):
        check = snapshot.activities[hold.activity_id]
        if check.id == activity.id or (check.id in later and not turned_round):
            continue
        if all(a.id not in later or a.id in own for a in looked_at(snapshot, hold)):
            yield check


def _waits(snapshot: Snapshot, tasks: Iterable[Activity]) -> Iterator[Activity]:
    open_ids = [a.id for a in tasks]
    seen = set(open_ids)
    for id in open_ids:
        for dependency in snapshot.after.get(id, ()):
            wait = snapshot.activities[dependency.after_id]
            if wait.kind == "wait" and wait.id not in seen and _stands(snapshot, wait):
                seen.add(wait.id)
                open_ids.append(wait.id)
                yield wait


def _made(snapshot: Snapshot, activity: Activity) -> list[Activity]:
    """The deliveries made from a measuring: those that say so, else the next ones behind it."""
    if activity.kind == "delivery":
        return [activity]
    later = behind(snapshot, activity.id)
    deliveries = [a for a in snapshot.chain if a.id in later and a.kind == "delivery"]
    said = [a for a in deliveries if a.measured_from_id == activity.measured_from_id]
    return said or [
        a for a in deliveries if not any(b.id in ahead(snapshot, a.id) for b in deliveries)
    ]


def _stands(snapshot: Snapshot, activity: Activity) -> bool:
    return activity.ended is None and snapshot.details[activity.detail_id].ended is None
