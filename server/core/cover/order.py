"""The order that layers imply: what covers a layer follows all that has to happen to it first.

Each task says which layers it puts in, covers, opens and needs open. From that alone follows what
must be done before what, without anybody drawing an arrow.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from server.core.cover.reach import reach
from server.core.world import Activity, Layer, Snapshot

Why = Literal["put in", "check", "inside"]


@dataclass(frozen=True)
class Implied:
    """`before_id` has to be done before `after_id` covers a layer.

    `why`: it puts the layer in, it is a check that looks at it, or its work needs it open.
    """

    before_id: str
    after_id: str
    layer_id: str
    why: Why


def implied(snapshot: Snapshot) -> tuple[Implied, ...]:
    """What must follow what, for everything that is not done and not covered yet.

    What covers a layer must follow all that puts it in and what lies within it, the checks on
    them, and the work that needs them open; all of that for the same parts. A task that comes after
    the layer was opened up again is measured against what covers it then. Of two that both put in
    and cover the same, neither has to follow the other.
    """
    kept = snapshot.kept_order
    if not kept:
        found = (pair for layer in snapshot.layers.values() for pair in _of_layer(snapshot, layer))
        kept.append(tuple(dict.fromkeys(found)))
    pairs: tuple[Implied, ...] = kept[0]
    return pairs


def undrawn(snapshot: Snapshot) -> tuple[tuple[str, str], ...]:
    """Pairs (before, after) that layers imply and the chain neither says nor contradicts."""
    return _pairs(i for i in implied(snapshot) if stands(snapshot, i) == "undrawn")


def contradicted(snapshot: Snapshot) -> tuple[tuple[str, str], ...]:
    """Pairs (before, after) that layers imply and of which the chain says the opposite."""
    return _pairs(i for i in implied(snapshot) if stands(snapshot, i) == "contradicted")


def stands(snapshot: Snapshot, pair: Implied) -> Literal["drawn", "undrawn", "contradicted"]:
    """How the chain stands to what layers imply."""
    known = reach(snapshot)
    if known.ends_before(pair.before_id, pair.after_id):
        return "drawn"
    if known.comes_before(pair.after_id, pair.before_id):
        return "contradicted"
    return "undrawn"


def unseen(snapshot: Snapshot) -> tuple[tuple[Layer, Activity], ...]:
    """Layers that must be seen, with the first task that would cover them seen by nobody.

    Seen is what a check or an invited look is asked for, in whatever order.
    """
    looked_at = {
        id
        for hold in snapshot.holds.values()
        if _in_chain(snapshot, hold.activity_id)
        for id in hold.layer_ids
    }
    found = []
    for layer in snapshot.layers.values():
        if not layer.must_be_seen or layer.ended is not None or layer.id in looked_at:
            continue
        tasks = [task for task, _ in _tasks(snapshot, layer, "covers") if task.finished is None]
        if tasks:
            found.append((layer, min(tasks, key=lambda task: task.order)))
    return tuple(found)


def _of_layer(snapshot: Snapshot, layer: Layer) -> Iterator[Implied]:
    covers = [
        (task, parts)
        for task, parts in _tasks(snapshot, layer, "covers")
        if task.started is None and task.finished is None
    ]
    if not covers or layer.ended is not None:
        return
    before = list(_before(snapshot, layer))
    opened = [task for task, _ in _tasks(snapshot, layer, "opens")]
    for task, parts in covers:
        for first, its_parts, why, of in before:
            if first.id == task.id or first.finished is not None:
                continue
            if not _share(parts, its_parts) or _opened_between(snapshot, task, opened, first):
                continue
            if why != "check" or not _looks_afterwards(snapshot, task, first, of):
                yield Implied(first.id, task.id, layer.id, why)


def _before(
    snapshot: Snapshot, layer: Layer
) -> Iterator[tuple[Activity, frozenset[int], Why, Layer]]:
    """What has to be done while a layer, or one within it, is open; with its parts, and which."""
    for one in (layer, *snapshot.within.get(layer.id, ())):
        own = one is layer
        for task, parts in _tasks(snapshot, one, "puts in"):
            yield task, parts if own else frozenset(), "put in", one
        for task, parts in _tasks(snapshot, one, "needs open"):
            yield task, parts if own else frozenset(), "inside", one
        for hold in snapshot.looking_at.get(one.id, ()):
            yield snapshot.activities[hold.activity_id], frozenset(), "check", one


def _looks_afterwards(snapshot: Snapshot, cover: Activity, check: Activity, layer: Layer) -> bool:
    """Whether a check looks at what a cover leaves to see: after it, as another looks before."""
    known = reach(snapshot)
    if not known.comes_before(cover.id, check.id):
        return False
    others = (h.activity_id for h in snapshot.looking_at.get(layer.id, ()))
    return layer.passes_through or any(known.ends_before(other, cover.id) for other in others)


def _opened_between(
    snapshot: Snapshot, cover: Activity, opened: Iterable[Activity], first: Activity
) -> bool:
    """Whether the layer is opened up again after this cover and before that work."""
    known = reach(snapshot)
    return any(
        known.comes_before(cover.id, task.id) and known.comes_before(task.id, first.id)
        for task in opened
    )


def _tasks(
    snapshot: Snapshot, layer: Layer, verb: str
) -> Iterator[tuple[Activity, frozenset[int]]]:
    """The tasks in a chain that do this to a layer, and to which parts (empty: all of it)."""
    for effect in snapshot.effects_on.get(layer.id, ()):
        if effect.verb == verb and _in_chain(snapshot, effect.activity_id):
            yield snapshot.activities[effect.activity_id], frozenset(effect.parts)


def _in_chain(snapshot: Snapshot, activity_id: str) -> bool:
    activity = snapshot.activities[activity_id]
    detail = snapshot.details.get(activity.detail_id)
    return activity.ended is None and detail is not None and detail.ended is None


def _share(some: frozenset[int], others: frozenset[int]) -> bool:
    return not some or not others or bool(some & others)


def _pairs(found: Iterable[Implied]) -> tuple[tuple[str, str], ...]:
    return tuple(dict.fromkeys((i.before_id, i.after_id) for i in found))
