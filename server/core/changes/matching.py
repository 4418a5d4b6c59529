"""What of an activity goes along into another detail: its layers, found there by their names."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from server.core.world import Activity, Detail, Effect, Layer, Snapshot

LOOKS_AT = "looks at"
MEASURED_FROM = "measured from"


@dataclass(frozen=True)
class LeftOut:
    """What an activity does to a layer that another detail has not.

    `verb` is that of an effect, "looks at" of a check, or "measured from".
    """

    activity_id: str
    verb: str
    layer_id: str


@dataclass(frozen=True)
class Carried:
    """An activity as it is in another detail.

    `effects` are its effects on the layers there, each in the row it has now; `looks_at` the
    layers its check looks at there.
    """

    place_id: str | None
    measured_from_id: str | None
    effects: tuple[Effect, ...]
    looks_at: tuple[str, ...]
    left_out: tuple[LeftOut, ...]


def carried(snapshot: Snapshot, activity: Activity, detail: Detail) -> Carried:
    """What of an activity goes along into a detail; all of it if that is its own.

    A form, a drawing and an order of work tell only of the layers of their own detail. An effect on
    another's would be seen by nobody and lost when somebody next changes the task: so what finds no
    layer of its name is left out, and said.
    """
    hold = snapshot.hold_of.get(activity.id)
    effects: dict[tuple[str, str], Effect] = {}
    left: list[LeftOut] = []
    for effect in snapshot.effects_of.get(activity.id, ()):
        there = _on(snapshot, effect, detail.id)
        if there is None or _clashes(there, effects):
            left.append(LeftOut(activity.id, effect.verb, effect.layer_id))
            continue
        if len(there.parts) < len(effect.parts):
            left.append(LeftOut(activity.id, effect.verb, effect.layer_id))
        key = there.verb, there.layer_id
        effects[key] = united(effects[key], there) if key in effects else there
    looks_at: dict[str, None] = {}
    for layer_id in hold.layer_ids if hold else ():
        found = layer_like(snapshot, layer_id, detail.id)
        if found is None:
            left.append(LeftOut(activity.id, LOOKS_AT, layer_id))
        else:
            looks_at[found.id] = None
    measured_from = activity.measured_from_id
    if measured_from is not None:
        found = layer_like(snapshot, measured_from, detail.id)
        if found is None:
            left.append(LeftOut(activity.id, MEASURED_FROM, measured_from))
        measured_from = found.id if found else None
    return Carried(
        place_id=_place(snapshot, activity, detail),
        measured_from_id=measured_from,
        effects=tuple(effects.values()),
        looks_at=tuple(looks_at),
        left_out=tuple(left),
    )


def layer_like(snapshot: Snapshot, layer_id: str, detail_id: str) -> Layer | None:
    """The layer of a detail that is called so on a side called so; else the only one called so."""
    layer = snapshot.layers[layer_id]
    if layer.detail_id == detail_id:
        return layer
    named = [
        other
        for other in snapshot.layers.values()
        if other.detail_id == detail_id and other.ended is None
        if other.name.casefold() == layer.name.casefold()
    ]
    side = snapshot.sides[layer.side_id].name.casefold()
    beside = [x for x in named if snapshot.sides[x.side_id].name.casefold() == side]
    for found in (beside, named):
        if len(found) == 1:
            return found[0]
    return None


def united(one: Effect, other: Effect) -> Effect:
    """Two effects of a verb on a layer as one: on all of it, or on the parts of both."""
    if not one.parts or not other.parts:
        return replace(one, parts=())
    return replace(one, parts=tuple(sorted({*one.parts, *other.parts})))


def layers_named(snapshot: Snapshot, left: Iterable[LeftOut]) -> tuple[str, ...]:
    """The names of layers that are left out, each once."""
    return tuple(dict.fromkeys(snapshot.layers[one.layer_id].name for one in left))


def _on(snapshot: Snapshot, effect: Effect, detail_id: str) -> Effect | None:
    """The effect on the layer of that name; only on the parts that it has."""
    layer = layer_like(snapshot, effect.layer_id, detail_id)
    if layer is None:
        return None
    parts = tuple(part for part in effect.parts if part <= layer.parts)
    if effect.parts and not parts:
        return None
    return replace(effect, layer_id=layer.id, parts=parts)


def _clashes(effect: Effect, others: dict[tuple[str, str], Effect]) -> bool:
    """Two layers that are one there: what is put in is neither hidden nor worked in."""
    on = {verb for verb, layer_id in others if layer_id == effect.layer_id} | {effect.verb}
    return "puts in" in on and bool(on & {"covers", "needs open"})


def _place(snapshot: Snapshot, activity: Activity, detail: Detail) -> str | None:
    """Whoever stood where its detail is stands where the other is."""
    own = snapshot.details[activity.detail_id]
    return detail.place_id if activity.place_id == own.place_id else activity.place_id
