"""Rules: a delivery is measured, drawn, approved, shipped; a circuit is dead before work in it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import Any

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.held import activity_of
from server.core.changes.inputs import one_of
from server.core.changes.rules_actuals import ON_THE_WAY, OtherKind, WrongTime, happened
from server.core.changes.stages import CircuitDead, StageDelivery
from server.core.refusals import message
from server.core.world import Activity, Snapshot

STAGES = ("measured", "drawn", "approved", "shipped")
IN_ORDER = (*ON_THE_WAY, "finished")
"""All that happens to a delivery. Ordered is no stage of its own here: `Order` records it."""
APART = frozenset({("drawn", "ordered"), ("approved", "ordered"), ("measured", "ordered")})
"""What may well happen the other way round: some orders go out before the drawing is approved."""


@rule(StageDelivery)
def stage_delivery(
    snapshot: Snapshot, actor: Actor, command: StageDelivery, at: datetime
) -> Outcome:
    """A stage is reached; refused where its time and that of another stage cannot both be.

    A stage may be left out, as one orders from a list what nobody draws. Only approval needs
    something that was drawn.
    """
    activity = activity_of(snapshot, command.activity_id)
    stage = one_of(command.stage, STAGES, "stage")
    if activity.kind != "delivery":
        raise OtherKind("actuals.other_kind", what=activity.name)
    when = happened(snapshot, command.when, at)
    if stage == "approved" and activity.drawn is None:
        raise OtherKind("stages.nothing_to_approve", field="when")
    for other, its in _others(activity, stage):
        if IN_ORDER.index(other) < IN_ORDER.index(stage) and when < its:
            raise WrongTime("stages.before", field="when", stage=stage, other=other, at=its)
        if IN_ORDER.index(other) > IN_ORDER.index(stage) and when > its:
            raise WrongTime("stages.after", field="when", stage=stage, other=other, at=its)
    reached: dict[str, Any] = {stage: when}
    said = message("log.staged", what=activity.name, stage=stage)
    return Outcome(snapshot.put(replace(activity, **reached)), said)


@rule(CircuitDead)
def circuit_dead(snapshot: Snapshot, actor: Actor, command: CircuitDead, at: datetime) -> Outcome:
    """The circuit of a task is recorded dead: before the work is done, not after."""
    activity = activity_of(snapshot, command.activity_id)
    if not activity.circuit:
        raise OtherKind("stages.no_circuit", what=activity.name)
    when = happened(snapshot, command.when, at)
    if activity.finished is not None and when > activity.finished:
        raise WrongTime("stages.dead_after_work", field="when", at=activity.finished)
    dead = replace(activity, circuit_dead=when)
    said = message("log.circuit_dead", circuit=activity.circuit, work=activity.name)
    return Outcome(snapshot.put(dead), said)


def _others(activity: Activity, stage: str) -> Iterator[tuple[str, datetime]]:
    for other in IN_ORDER:
        its: datetime | None = getattr(activity, other)
        if its is not None and other != stage and (stage, other) not in APART:
            yield other, its
