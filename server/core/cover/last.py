"""The last moment to reach a place, bring a piece in, have an inspector look, have shores out.

As with layers, each says what must be done before what; here it follows from the temporary works
that work stands on, from the ways that close, and from what is still held up.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from server.core.cover.reach import reach
from server.core.world import Activity, HoldPoint, Layer, Snapshot

Why = Literal["reach", "way in", "rough", "shores"]
INSULATION = ("batt", "insulation", "wool", "foam", "cellulose")
"""Words that the material of a layer of insulation holds."""


@dataclass(frozen=True)
class Last:
    """`before_id` has to be done before `after_id` takes away what it needs: `of` names that."""

    before_id: str
    after_id: str
    why: Why
    of: str


def lasts(snapshot: Snapshot, why: Why) -> Iterator[Last]:
    """Those of one kind that the chain does not say, of work that is not done yet."""
    for last in FOUND[why](snapshot):
        known = reach(snapshot)
        before, after = snapshot.activities[last.before_id], snapshot.activities[last.after_id]
        told = before.finished is None and before.id != after.id
        if told and not known.ends_before(before.id, after.id):
            yield last


def unpowered(snapshot: Snapshot) -> Iterator[tuple[Layer, Activity]]:
    """Circuits that are covered, and that nothing tries before: each with the first cover."""
    for layer in snapshot.layers.values():
        effects = [
            (e.verb, snapshot.activities[e.activity_id])
            for e in snapshot.effects_on.get(layer.id, ())
            if e.activity_id in reach(snapshot).numbers
        ]
        covers = [a for verb, a in effects if verb == "covers" and a.finished is None]
        tried = layer.id in snapshot.looking_at or any(verb == "needs open" for verb, _ in effects)
        if layer.powered and layer.ended is None and covers and not tried:
            yield layer, min(covers, key=lambda a: a.order)


def _reached(snapshot: Snapshot) -> Iterator[Last]:
    """Work that stands on a scaffold or a deck, and what strikes that."""
    for temporary_id, strikes in _striking(snapshot).items():
        name = snapshot.temporary[temporary_id].name
        for work in snapshot.chain:
            if work.temporary == "stands on" and work.temporary_id == temporary_id:
                yield from (Last(work.id, strike.id, "reach", name) for strike in strikes)


def _way_in(snapshot: Snapshot) -> Iterator[Last]:
    """A long piece that comes in by a way, and what closes that."""
    pieces = [a for a in snapshot.chain if a.way_in_id in snapshot.ways]
    closing = [a for a in snapshot.chain if a.closes_way_id] if pieces else []
    for piece in pieces:
        way = snapshot.ways[piece.way_in_id or ""]
        for closes in closing:
            if closes.closes_way_id == way.id:
                yield Last(piece.id, closes.id, "way in", way.name)


def _rough(snapshot: Snapshot) -> Iterator[Last]:
    """An outside look at what lies in the same bay, and the insulation that fills it."""
    for layer in snapshot.layers.values():
        if layer.ended is not None or not _is_insulation(layer) or layer.within_id is None:
            continue
        beside = (layer.within_id, *(x.id for x in snapshot.within.get(layer.within_id, ())))
        filling = _putting_in(snapshot, layer)
        for hold in _outside_looks(snapshot, (id for id in beside if id != layer.id)):
            if layer.id not in hold.layer_ids:
                for work in filling:
                    yield Last(hold.activity_id, work.id, "rough", layer.name)


def _shores(snapshot: Snapshot) -> Iterator[Last]:
    """What takes shores out, and what is measured from or closes what they hold."""
    for temporary_id, strikes in _striking(snapshot).items():
        shore = snapshot.temporary[temporary_id]
        if shore.kind != "shore" or shore.detail_id is None:
            continue
        for work in snapshot.chain_of(shore.detail_id):
            covers = any(e.verb == "covers" for e in snapshot.effects_of.get(work.id, ()))
            if covers or work.measured_from_id:
                yield from (Last(strike.id, work.id, "shores", shore.name) for strike in strikes)


def _striking(snapshot: Snapshot) -> dict[str, list[Activity]]:
    """Temporary work id -> the tasks that take it out."""
    found: dict[str, list[Activity]] = {}
    for activity in snapshot.chain:
        if activity.temporary == "strikes" and activity.temporary_id in snapshot.temporary:
            found.setdefault(activity.temporary_id or "", []).append(activity)
    return found


def _putting_in(snapshot: Snapshot, layer: Layer) -> list[Activity]:
    return [
        snapshot.activities[e.activity_id]
        for e in snapshot.effects_on.get(layer.id, ())
        if e.verb == "puts in" and e.activity_id in reach(snapshot).numbers
    ]


def _outside_looks(snapshot: Snapshot, layer_ids: Iterable[str]) -> Iterator[HoldPoint]:
    found = {h.id: h for id in layer_ids for h in snapshot.looking_at.get(id, ()) if h.authority}
    yield from found.values()


def _is_insulation(layer: Layer) -> bool:
    return any(word in layer.material.lower() for word in INSULATION)


FOUND: Mapping[Why, Callable[[Snapshot], Iterator[Last]]] = {
    "reach": _reached,
    "way in": _way_in,
    "rough": _rough,
    "shores": _shores,
}
