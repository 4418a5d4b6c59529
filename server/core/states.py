"""The states of activities, checks and layers, read off what happened. Nothing here is stored."""

from collections.abc import Iterable
from typing import Literal

from server.core.schedule import Schedule
from server.core.world import Activity, Attempt, Effect, HoldPoint, Layer, Snapshot

ActivityState = Literal["waiting", "ready", "under way", "done"]
HoldState = Literal["not yet", "to check", "marked", "released", "look again", "rejected"]
LayerState = Literal["to come", "going in", "in the open", "covered", "opened up again"]


def activity_state(snapshot: Snapshot, schedule: Schedule, activity: Activity) -> ActivityState:
    """Waiting, ready, under way or done; a wait begins and ends by itself."""
    if activity.finished is not None or activity.id in schedule.done:
        return "done"
    if activity.started is not None:
        return "under way"
    if schedule[activity.id].ready:
        return "ready"
    if activity.kind == "wait" and not open_before(snapshot, activity.id, schedule):
        return "under way"
    return "waiting"


# -- checks -------------------------------------------------------------------------------------


def live_attempts(snapshot: Snapshot, hold: HoldPoint) -> tuple[Attempt, ...]:
    """The attempts that count: those since the check was last opened again."""
    attempts = snapshot.attempts_of.get(hold.id, ())
    opened = max((i for i, a in enumerate(attempts) if a.state == "opened again"), default=-1)
    return attempts[opened + 1 :]


def hold_state(snapshot: Snapshot, hold: HoldPoint) -> HoldState:
    """Where a check stands. "released" may have left parts out: see `left_out`."""
    attempts = live_attempts(snapshot, hold)
    last = attempts[-1] if attempts else None
    if last is not None and last.state == "marked":
        return "marked"
    if last is not None and last.state == "look again":
        return "look again"
    if last is not None and last.state == "rejected":
        return "to check" if _reworked(snapshot, last) else "rejected"
    if any(a.state == "released" for a in attempts):
        return "released"
    return "not yet" if open_before(snapshot, hold.activity_id) else "to check"


def parts_of(hold: HoldPoint) -> frozenset[int]:
    """The numbers of the parts of a check that can be released one by one."""
    return frozenset(range(1, hold.parts + 1))


def parts_ok(snapshot: Snapshot, hold: HoldPoint) -> frozenset[int]:
    """The parts that are OK to cover."""
    ok: frozenset[int] = frozenset()
    for attempt in live_attempts(snapshot, hold):
        about = frozenset(attempt.parts) or parts_of(hold)
        if attempt.state == "released":
            ok |= about - frozenset(attempt.left_out)
    return ok


def left_out(snapshot: Snapshot, hold: HoldPoint) -> tuple[int, ...]:
    """The parts that a release left out and that are not OK to cover yet."""
    if not any(a.state == "released" for a in live_attempts(snapshot, hold)):
        return ()
    return tuple(sorted(parts_of(hold) - parts_ok(snapshot, hold)))


def is_released(snapshot: Snapshot, hold: HoldPoint) -> bool:
    """Whether what follows may start: all of it was released, or all but some parts."""
    return any(a.state == "released" for a in live_attempts(snapshot, hold))


def to_mark(snapshot: Snapshot, hold: HoldPoint) -> tuple[int, ...]:
    """The parts that the next mark is about: those left out, else all."""
    return left_out(snapshot, hold) or tuple(sorted(parts_of(hold)))


def _reworked(snapshot: Snapshot, attempt: Attempt) -> bool:
    return any(
        a.rework_of_id == attempt.id and a.finished is not None
        for a in snapshot.activities.values()
    )


# -- what stands before an activity -------------------------------------------------------------


def open_before(
    snapshot: Snapshot, activity_id: str, schedule: Schedule | None = None
) -> tuple[Activity, ...]:
    """What has to be done (or, for a start to start, begun) before this may start, and is not.

    A wait counts as done when the schedule says it has run out; without one, when it is recorded.
    """
    found = []
    for dependency in snapshot.before.get(activity_id, ()):
        before = snapshot.activities[dependency.before_id]
        if before.ended is not None or _stops_nobody(snapshot, before):
            continue
        done = before.finished is not None or (schedule is not None and before.id in schedule.done)
        begun = done or before.started is not None
        if (dependency.type == "FS" and not done) or (dependency.type == "SS" and not begun):
            found.append(before)
    return tuple(found)


def holding(snapshot: Snapshot, activity_id: str) -> tuple[HoldPoint, ...]:
    """The unreleased checks on a path to an activity whose last dependency holds its start.

    However far before they lie, through what is done too: what is behind them must be seen.
    """
    found: dict[str, HoldPoint] = {}
    first = (d for d in snapshot.before.get(activity_id, ()) if d.type in ("FS", "SS"))
    waiting = [d.before_id for d in first]
    passed: set[str] = set()
    while waiting:
        id = waiting.pop()
        if id in passed:
            continue
        passed.add(id)
        hold, activity = snapshot.hold_of.get(id), snapshot.activities[id]
        if activity.ended is not None:
            continue
        if hold is not None and not hold.witness and activity.finished is None:
            found[id] = hold
        waiting.extend(d.before_id for d in snapshot.before.get(id, ()))
    order = {a.id: i for i, a in enumerate(snapshot.chain)}
    return tuple(sorted(found.values(), key=lambda h: order.get(h.activity_id, 0)))


def _stops_nobody(snapshot: Snapshot, activity: Activity) -> bool:
    hold = snapshot.hold_of.get(activity.id)
    return hold is not None and hold.witness


# -- layers -------------------------------------------------------------------------------------


def layer_state(snapshot: Snapshot, layer: Layer, part: int | None = None) -> LayerState:
    """A layer, or one part of it: what was done to it last says how it stands.

    As a whole, a layer is covered only when no part of it is in the open.
    """
    if part is None and layer.parts:
        states = [layer_state(snapshot, layer, no) for no in range(1, layer.parts + 1)]
        return _whole(states)
    effects = [e for e in snapshot.effects_on.get(layer.id, ()) if not e.parts or part in e.parts]
    last = max(_happened(snapshot, effects), key=lambda pair: pair[0], default=None)
    if last is not None:
        done: dict[str, LayerState] = {
            "puts in": "in the open",
            "covers": "covered",
            "opens": "opened up again",
        }
        latest = done[last[1]]
        if latest == "in the open" and _unfinished(snapshot, effects):
            return "going in"
        return latest
    begun = any(snapshot.activities[e.activity_id].started for e in effects if e.verb == "puts in")
    return "going in" if begun else "to come"


def _happened(
    snapshot: Snapshot, effects: Iterable[Effect]
) -> list[tuple[tuple[object, int], str]]:
    rank = {"puts in": 0, "covers": 1, "opens": 2}
    return [
        ((finished, rank[e.verb]), e.verb)
        for e in effects
        if (finished := snapshot.activities[e.activity_id].finished) is not None
    ]


def _unfinished(snapshot: Snapshot, effects: Iterable[Effect]) -> bool:
    """Whether another task still has to put some of it in."""
    return any(
        (a := snapshot.activities[e.activity_id]).finished is None and a.ended is None
        for e in effects
        if e.verb == "puts in"
    )


def _whole(states: list[LayerState]) -> LayerState:
    if len(set(states)) == 1:
        return states[0]
    if "opened up again" in states:
        return "opened up again"
    if "going in" in states or "to come" in states:
        return "going in"
    return "in the open"
