"""What is in and has to be kept: finished faces, plaster; and what lies above them."""

from collections.abc import Iterator

from server.core.climate import place_of
from server.core.heat import in_use
from server.core.states import layer_state
from server.core.world import Activity, Layer, Snapshot

OPEN = frozenset({"going in", "in the open", "opened up again"})


def finished_faces(snapshot: Snapshot) -> Iterator[tuple[Layer, str | None]]:
    """The finished faces that are in, all or some of it, lie open, and have no cover over them.

    Each with its place: that of what put it in.
    """
    for layer in _in_chains(snapshot):
        task = _put_in(snapshot, layer) if layer.finished else None
        if task is None or layer_state(snapshot, layer) not in OPEN:
            continue
        place_id = place_of(snapshot, task) or snapshot.details[layer.detail_id].place_id
        if not _has_cover(snapshot, layer, place_id):
            yield layer, place_id


def plaster_in(snapshot: Snapshot) -> Iterator[tuple[Layer, str | None]]:
    """The coats of plaster that are in, covered by the next or not. Each with its place."""
    for layer in _in_chains(snapshot):
        words = layer.material.casefold().split()
        task = _put_in(snapshot, layer) if {"plaster", "lime"}.intersection(words) else None
        if task is not None and layer_state(snapshot, layer) != "to come":
            yield layer, place_of(snapshot, task) or snapshot.details[layer.detail_id].place_id


def above(snapshot: Snapshot, place_id: str) -> frozenset[str]:
    """A place and those from which something can drop into it, through others too."""
    found = {place_id}
    while True:
        more = {p.id for p in snapshot.places.values() if found.intersection(p.open_to)}
        if more <= found:
            return frozenset(found)
        found |= more


def changes(snapshot: Snapshot, work: Activity, layers: frozenset[str]) -> bool:
    """Whether a task puts in, covers or opens any of these layers: it is done to them, not beside
    them."""
    return any(e.layer_id in layers for e in snapshot.effects_of.get(work.id, ()))


def _in_chains(snapshot: Snapshot) -> Iterator[Layer]:
    for layer in snapshot.layers.values():
        detail = snapshot.details.get(layer.detail_id)
        if layer.ended is None and detail is not None and detail.ended is None:
            yield layer


def _put_in(snapshot: Snapshot, layer: Layer) -> Activity | None:
    """A task that has put in some of a layer."""
    tasks = (
        snapshot.activities[e.activity_id]
        for e in snapshot.effects_on.get(layer.id, ())
        if e.verb == "puts in"
    )
    return next((task for task in tasks if task.finished is not None), None)


def _has_cover(snapshot: Snapshot, layer: Layer, place_id: str | None) -> bool:
    """Whether a cover is in over it: one of its detail, or of no detail and in its place."""
    return any(
        work.kind == "cover"
        and in_use(work)
        and (
            work.detail_id == layer.detail_id
            if work.detail_id
            else place_id is not None and work.place_id == place_id
        )
        for work in snapshot.temporary.values()
    )
