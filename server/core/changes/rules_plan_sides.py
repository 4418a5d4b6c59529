"""Rules: sides renamed, put in another order, ended; layers in another order."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Gone, Outcome, rule
from server.core.changes.inputs import BadInput, name_of, not_taken, there
from server.core.changes.orders import placed
from server.core.changes.plan_rows import ChangeSide, EndSide, MoveLayer
from server.core.changes.rules_plan_layers import layers_of
from server.core.refusals import message
from server.core.world import TABLES, Detail, Layer, Side, Snapshot


@rule(ChangeSide)
def change_side(snapshot: Snapshot, actor: Actor, command: ChangeSide, at: datetime) -> Outcome:
    """Another name, another place among the sides of its detail."""
    side = there(snapshot, Side, command.side_id, "side_id")
    detail = there(snapshot, Detail, side.detail_id, "side_id")
    others = [s for s in sides_of(snapshot, detail.id) if s.id != side.id]
    if command.behind_id is not None and command.behind_id not in {s.id for s in others}:
        raise Gone("change.gone", field="behind_id", what=TABLES[Side])
    renamed = replace(side, name=not_taken(name_of(command.name), (s.name for s in others)))
    rows = placed(others, (renamed,), command.behind_id)
    if _stays(snapshot, side, command.behind_id):
        rows = (renamed,)
    said = message("log.side_changed", side=renamed.name, detail=detail.name)
    return Outcome(snapshot.put(*rows), said)


@rule(EndSide)
def end_side(snapshot: Snapshot, actor: Actor, command: EndSide, at: datetime) -> Outcome:
    """A side without layers goes.

    Layers of it that are not put in go with it: nothing was ever done to them, or they would not
    have been ended.
    """
    side = there(snapshot, Side, command.side_id, "side_id")
    detail = there(snapshot, Detail, side.detail_id, "side_id")
    if layers := tuple(layer.name for layer in layers_of(snapshot, side.id)):
        raise BadInput("plan.side_has_layers", field="side_id", layers=layers)
    ended = [layer for layer in snapshot.layers.values() if layer.side_id == side.id]
    said = message("log.side_ended", side=side.name, detail=detail.name)
    return Outcome(snapshot.drop(side, *ended), said)


@rule(MoveLayer)
def move_layer(snapshot: Snapshot, actor: Actor, command: MoveLayer, at: datetime) -> Outcome:
    """Another place in the stack; what lies within a layer goes with it and is never left behind.

    What lies within another stays behind it and among what lies there too.
    """
    layer = there(snapshot, Layer, command.layer_id, "layer_id")
    detail = there(snapshot, Detail, layer.detail_id, "layer_id")
    rows = layers_of(snapshot, layer.side_id)
    known = {row.id: row for row in rows}
    block = [row for row in rows if row.id == layer.id or layer.id in _hosts(known, row)]
    over = known.get(command.over_id or "")
    if command.over_id and over is None:
        raise Gone("change.gone", field="over_id", what=TABLES[Layer])
    if over in block:
        raise BadInput("plan.over_itself", field="over_id")
    host = known.get(layer.within_id or "")
    if host is not None and (over is None or host.id not in (over.id, *_hosts(known, over))):
        raise BadInput("plan.stays_within", field="over_id", layer=layer.name, host=host.name)
    others = [row for row in rows if row not in block]
    behind_id = over.id if over else None
    if over is not None and host is None:
        root = (*_hosts(known, over), over.id)[0]
        behind_id = [r.id for r in others if root in (r.id, *_hosts(known, r))][-1]
    # the layer itself comes before what lies within it
    block.sort(key=lambda row: row.id != layer.id)
    said = message("log.layer_moved", layer=layer.name, detail=detail.name)
    return Outcome(snapshot.put(*placed(others, block, behind_id)), said)


def sides_of(snapshot: Snapshot, detail_id: str) -> tuple[Side, ...]:
    """The sides of a detail, in order."""
    rows = (side for side in snapshot.sides.values() if side.detail_id == detail_id)
    return tuple(sorted(rows, key=lambda side: side.order))


def _stays(snapshot: Snapshot, side: Side, behind_id: str | None) -> bool:
    """Whether a side is where it is to be already."""
    sides = sides_of(snapshot, side.detail_id)
    index = sides.index(side)
    return (sides[index - 1].id if index else None) == behind_id


def _hosts(rows: dict[str, Layer], layer: Layer) -> tuple[str, ...]:
    """The ids of the layers that a layer lies within, the outermost first."""
    found: list[str] = []
    host = rows.get(layer.within_id or "")
    while host is not None and host.id not in found:
        found.append(host.id)
        host = rows.get(host.within_id or "")
    return tuple(reversed(found))
