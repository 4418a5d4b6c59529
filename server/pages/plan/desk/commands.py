"""The commands that make what was typed into cells so."""

from collections.abc import Iterable, Iterator, Mapping

from server.core.changes import Command
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    AddLayer,
    ChangeActivity,
    ChangeDependency,
    ChangeLayer,
    CheckFacts,
    EndDependency,
    LayerFacts,
)
from server.core.refusals import Refusal
from server.core.world import Activity, Dependency, Layer, Side, Snapshot
from server.pages.kit.forms import Refusals
from server.pages.plan.activity_form import facts_of
from server.pages.plan.context import layers_of_detail
from server.pages.plan.desk import layer_cells
from server.pages.plan.desk.after_words import After
from server.pages.plan.desk.cells import Cells, check_of
from server.pages.plan.desk.naming import Names


def row_changed(
    cells: Cells, activity: Activity, typed: Mapping[str, str], ids: Iterator[str]
) -> tuple[Command, ...]:
    """What makes a row say what was typed over some of its cells. Raises `Refusals`."""
    snapshot = cells.snapshot
    facts = facts_of(snapshot, activity)
    hold = snapshot.hold_of.get(activity.id)
    check = check_of(snapshot, hold) if hold else None
    refused: list[Refusal] = []
    read = cells.read(facts, check, typed, refused)
    if refused:
        raise Refusals(tuple(refused))
    made: list[Command] = []
    if (read.facts, read.check) != (facts, check):
        made.append(
            ChangeActivity(
                activity_id=activity.id,
                facts=read.facts,
                check=read.check,
                seen={activity.id: activity.version},
            )
        )
    if "after" in typed:
        orders = snapshot.before.get(activity.id, ())
        made += _orders_changed(activity.id, orders, read.after, ids)
    return tuple(made)


def row_added(
    cells: Cells, kind: str, typed: Mapping[str, str], behind_id: str | None, ids: Iterator[str]
) -> tuple[Command, ...]:
    """A new row with what was typed. Raises `Refusals`."""
    detail = cells.snapshot.details[cells.detail_id]
    place = None if kind == "delivery" else detail.place_id
    facts = ActivityFacts(name="", kind=kind, place_id=place)
    check = CheckFacts(what="") if kind == "hold" else None
    refused: list[Refusal] = []
    read = cells.read(facts, check, {"does": "", **typed}, refused)
    if refused:
        raise Refusals(tuple(refused))
    id = next(ids)
    added = AddActivity(
        id=id,
        detail_id=cells.detail_id,
        facts=read.facts,
        behind_id=behind_id,
        hold_id=next(ids) if check else None,
        check=read.check,
    )
    return (added, *_orders_changed(id, (), read.after, ids))


def layer_changed(
    snapshot: Snapshot, layer: Layer, typed: Mapping[str, str]
) -> tuple[Command, ...]:
    """What makes a layer say what was typed over some of its cells. Raises `Refusals`."""
    facts = layer_cells.facts_of(layer)
    refused: list[Refusal] = []
    others = others_on(snapshot, layer.detail_id, layer.side_id, layer.id)
    read = layer_cells.read(facts, typed, others, refused)
    if refused:
        raise Refusals(tuple(refused))
    if read == facts:
        return ()
    return (ChangeLayer(layer_id=layer.id, facts=read, seen={layer.id: layer.version}),)


def layer_added(
    snapshot: Snapshot, side: Side, typed: Mapping[str, str], id: str
) -> tuple[Command, ...]:
    """A new layer at the room side of a side. Raises `Refusals`."""
    others = others_on(snapshot, side.detail_id, side.id)
    refused: list[Refusal] = []
    empty = LayerFacts(name="", material="")
    facts = layer_cells.read(empty, {"name": "", **typed}, others, refused)
    if refused:
        raise Refusals(tuple(refused))
    outermost = next(reversed(others.labels), None)
    return (AddLayer(id=id, side_id=side.id, facts=facts, over_id=outermost),)


def others_on(snapshot: Snapshot, detail_id: str, side_id: str, but: str = "") -> Names:
    """The layers of a side from the bearing side, without one of them."""
    layers = layers_of_detail(snapshot, detail_id)
    return Names({x.id: x.name for x in layers if x.side_id == side_id and x.id != but})


def _orders_changed(
    id: str, orders: Iterable[Dependency], wanted: Iterable[After], ids: Iterator[str]
) -> Iterator[Command]:
    """What leaves, what changes, what comes; what stays as it is is not touched."""
    known = {(d.before_id, d.type): d for d in orders}
    asked = {(after.before_id, after.type): after for after in wanted}
    for key, d in known.items():
        if key not in asked:
            yield EndDependency(dependency_id=d.id, seen={d.id: d.version})
    for key, after in asked.items():
        how = {name: getattr(after, name) for name in ("type", "lag", "lag_on", "most")}
        if key not in known:
            yield AddDependency(id=next(ids), before_id=after.before_id, after_id=id, **how)
        elif After.of(known[key]) != after:
            d = known[key]
            yield ChangeDependency(dependency_id=d.id, seen={d.id: d.version}, **how)
