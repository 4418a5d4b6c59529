"""The state of a layer, and which checks a task hides from sight."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Literal

from server.core.states.before import behind
from server.core.states.checks import open_parts
from server.core.world import Activity, Effect, HoldPoint, Layer, Snapshot

LayerState = Literal["to come", "going in", "in the open", "covered", "opened up again"]

AFTER: dict[str, LayerState] = {
    "puts in": "in the open",
    "covers": "covered",
    "opens": "opened up again",
}
# What happened in the same minute happened in this order.
RANK = {"puts in": 0, "covers": 1, "opens": 2}


def layer_state(snapshot: Snapshot, layer: Layer, part: int | None = None) -> LayerState:
    """A layer, or one part of it: what was done to it last says how it stands.

    As a whole, a layer is covered only when no part of it is in the open. Rework changes nothing
    until it has started; while it goes on, the layer is going in.
    """
    if part is None and layer.parts:
        return _whole([layer_state(snapshot, layer, no) for no in range(1, layer.parts + 1)])
    effects = [e for e in snapshot.effects_on.get(layer.id, ()) if not e.parts or part in e.parts]
    last = max(_happened(snapshot, effects), default=None)
    if last is None:
        return "going in" if any(_begun(snapshot, effects)) else "to come"
    state = AFTER[last[2]]
    if state == "in the open" and _goes_on(snapshot, effects):
        return "going in"
    return state


def checks_hidden_by(snapshot: Snapshot, task: Activity) -> tuple[HoldPoint, ...]:
    """The checks whose layers a task covers, but for invited looks and those that come after it.

    A check that comes after the task looks at what is left to see.
    """
    covered = {e.layer_id for e in snapshot.effects_of.get(task.id, ()) if e.verb == "covers"}
    if not covered:
        return ()
    later = behind(snapshot, task.id)
    found = (
        hold
        for a in snapshot.chain
        if (hold := snapshot.hold_of.get(a.id)) is not None
        if not hold.witness and covered.intersection(hold.layer_ids) and a.id not in later
    )
    return tuple(found)


def hidden_parts(snapshot: Snapshot, task: Activity, hold: HoldPoint) -> frozenset[int] | None:
    """The parts of a check that are not OK and that a task covers; None where that is all of it.

    Empty where it covers nothing of the kind. A layer without parts is covered with all of them.
    """
    not_ok = open_parts(snapshot, hold)
    covers = [
        e
        for e in snapshot.effects_of.get(task.id, ())
        if e.verb == "covers" and e.layer_id in hold.layer_ids
    ]
    if not covers:
        return frozenset()
    if not_ok is None and not hold.parts:
        return None
    whole = any(not e.parts for e in covers)
    if whole or not hold.parts:
        return not_ok
    named = frozenset(part for e in covers for part in e.parts)
    return named if not_ok is None else not_ok & named


def _happened(snapshot: Snapshot, effects: Iterable[Effect]) -> Iterator[tuple[datetime, int, str]]:
    for effect in effects:
        if effect.verb not in RANK:
            continue  # what needs it open leaves it as it was
        task = snapshot.activities[effect.activity_id]
        # what was ended while under way keeps what it left
        done = task.finished or (task.ended if task.started is not None else None)
        if done is not None:
            yield done, RANK[effect.verb], effect.verb


def _begun(snapshot: Snapshot, effects: Iterable[Effect]) -> Iterator[bool]:
    for effect in effects:
        if effect.verb == "puts in":
            yield snapshot.activities[effect.activity_id].started is not None


def _goes_on(snapshot: Snapshot, effects: Iterable[Effect]) -> bool:
    """Whether another task is still putting some of it in, or has yet to."""
    tasks = (snapshot.activities[e.activity_id] for e in effects if e.verb == "puts in")
    return any(
        task.finished is None
        and task.ended is None
        and (task.started is not None or task.rework_of_id is None)
        for task in tasks
    )


def _whole(states: list[LayerState]) -> LayerState:
    if len(set(states)) == 1:
        return states[0]
    if "opened up again" in states:
        return "opened up again"
    if "going in" in states or "to come" in states:
        return "going in"
    return "in the open"
