"""Rules: the layers of a side."""

from dataclasses import replace
from datetime import datetime
from fractions import Fraction

from server.core.changes.base import Actor, Gone, Outcome, rule
from server.core.changes.inputs import BadInput, name_of, new_id, text_of, there, whole
from server.core.changes.orders import behind
from server.core.changes.plan import AddLayer, ChangeLayer, EndLayer, LayerFacts
from server.core.refusals import message
from server.core.world import TABLES, Activity, Detail, Layer, Noun, Side, Snapshot

MOST_PARTS = 200
THICKEST = Fraction(240)


@rule(AddLayer)
def add_layer(snapshot: Snapshot, actor: Actor, command: AddLayer, at: datetime) -> Outcome:
    """A layer right over another, or at the bearing side."""
    side = there(snapshot, Side, command.side_id, "side_id")
    detail = there(snapshot, Detail, side.detail_id, "side_id")
    rows = layers_of(snapshot, side.id)
    if command.over_id and command.over_id not in {layer.id for layer in rows}:
        raise Gone("change.gone", field="over_id", what=TABLES[Layer])
    order, moved = behind(rows, command.over_id)
    layer = Layer(
        id=new_id(snapshot, Layer, command.id),
        project_id=snapshot.project.id,
        detail_id=detail.id,
        side_id=side.id,
        order=order,
        name="",
        material="",
    )
    layer = _with_facts(snapshot, layer, command.facts)
    return Outcome(
        snapshot.put(*moved, layer),
        message("log.layer_added", layer=layer.name, side=side.name, detail=detail.name),
    )


@rule(ChangeLayer)
def change_layer(snapshot: Snapshot, actor: Actor, command: ChangeLayer, at: datetime) -> Outcome:
    """Other facts; it keeps at least the parts that tasks name."""
    layer = there(snapshot, Layer, command.layer_id, "layer_id")
    detail = there(snapshot, Detail, layer.detail_id, "layer_id")
    changed = _with_facts(snapshot, layer, command.facts)
    if changed.thickness != layer.thickness or changed.parts != layer.parts:
        changed = replace(changed, tag="")
    named = [part for e in snapshot.effects_on.get(layer.id, ()) for part in e.parts]
    if max(named, default=0) > changed.parts:
        raise BadInput("plan.part_in_use", field="parts", part=max(named))
    return Outcome(
        snapshot.put(changed),
        message("log.layer_changed", layer=changed.name, detail=detail.name),
    )


@rule(EndLayer)
def end_layer(snapshot: Snapshot, actor: Actor, command: EndLayer, at: datetime) -> Outcome:
    """The layer is not put in; what was planned on it goes with it. Refused once work was done."""
    layer = there(snapshot, Layer, command.layer_id, "layer_id")
    detail = there(snapshot, Detail, layer.detail_id, "layer_id")
    refuse_worked_on(snapshot, layer)
    effects = snapshot.effects_on.get(layer.id, ())
    looks = [h for h in snapshot.holds.values() if layer.id in h.layer_ids]
    rows: list[Noun] = [replace(layer, ended=at)]
    rows += [replace(h, layer_ids=tuple(id for id in h.layer_ids if id != layer.id)) for h in looks]
    rows += [
        replace(a, measured_from_id=None)
        for a in snapshot.activities.values()
        if a.measured_from_id == layer.id
    ]
    rows += [
        replace(inner, within_id=None)
        for inner in snapshot.layers.values()
        if inner.within_id == layer.id
    ]
    return Outcome(
        snapshot.drop(*effects).put(*rows),
        message("log.layer_ended", layer=layer.name, detail=detail.name),
    )


def refuse_worked_on(snapshot: Snapshot, layer: Layer) -> None:
    """Refuses to end a layer that something was done to, or that was looked at."""
    if (activity := worked_on(snapshot, layer)) is not None:
        raise BadInput("plan.layer_worked_on", layer=layer.name, activity=activity.name)


def worked_on(snapshot: Snapshot, layer: Layer) -> Activity | None:
    """The work that was done to a layer, or the check that has looked at it."""
    for effect in snapshot.effects_on.get(layer.id, ()):
        activity = snapshot.activities[effect.activity_id]
        if activity.started is not None:
            return activity
    for hold in snapshot.holds.values():
        if layer.id in hold.layer_ids and hold.id in snapshot.attempts_of:
            return snapshot.activities[hold.activity_id]
    return None


def layers_of(snapshot: Snapshot, side_id: str) -> tuple[Layer, ...]:
    """The layers of a side from the bearing side to the room side, without ended ones."""
    rows = (r for r in snapshot.layers.values() if r.side_id == side_id and r.ended is None)
    return tuple(sorted(rows, key=lambda layer: layer.order))


def _with_facts(snapshot: Snapshot, layer: Layer, facts: LayerFacts) -> Layer:
    if facts.thickness is not None and not 0 < facts.thickness <= THICKEST:
        raise BadInput("plan.absurd_thickness", field="thickness", most=THICKEST)
    if facts.within_id:
        _check_within(snapshot, layer, facts.within_id)
    return replace(
        layer,
        name=name_of(facts.name),
        material=name_of(facts.material, "material", 60),
        thickness=facts.thickness,
        part_name=text_of(facts.part_name, "part_name", 40),
        parts=whole(facts.parts, 0, MOST_PARTS, "parts"),
        within_id=facts.within_id or None,
        passes_through=facts.passes_through,
        must_be_seen=facts.must_be_seen,
        finished=facts.finished,
        powered=facts.powered,
    )


def _check_within(snapshot: Snapshot, layer: Layer, within_id: str) -> None:
    """A layer lies within one of its own side, and never, over however many, within itself."""
    outer: Layer | None = there(snapshot, Layer, within_id, "within_id")
    if outer is not None and outer.side_id != layer.side_id:
        raise BadInput("plan.within_elsewhere", field="within_id", layer=outer.name)
    while outer is not None:
        if outer.id == layer.id:
            raise BadInput("plan.within_itself", field="within_id")
        outer = snapshot.layers[outer.within_id] if outer.within_id else None
