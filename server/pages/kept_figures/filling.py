"""What is known of a detail, as the fields of a figure begin."""

import re
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from urllib.parse import urlencode

from server.core.climate import place_of
from server.core.drying import stuff_of
from server.core.world import Activity, Detail, Layer, Snapshot
from server.pages.figures.at_work import AtWork
from server.pages.plan.context import layers_of_detail
from server.pages.plan.writing import number_written

Fields = Iterator[tuple[str, str]]
TREAD = "tread"
RAIL = re.compile(r"\brail\b", re.IGNORECASE)
STUFFS = frozenset({"gypsum", "compound", "lime", "cement", "adhesive", "grout"})


def address(
    href: str, name: str, snapshot: Snapshot, detail: Detail, units: str, at: AtWork
) -> str:
    """The page of a figure for a detail, with what is known of it filled in."""
    fill = FILLED.get(name)
    known = tuple(fill(snapshot, detail, at)) if fill else ()
    in_inches = (("units", "in"), ("to", units)) if known else ()
    return f"{href}?{urlencode((('detail', detail.id), *in_inches, *known))}"


def _stand_offs(snapshot: Snapshot, detail: Detail, at: AtWork) -> Fields:
    layers = layers_of_detail(snapshot, detail.id)
    if treads := _treads(layers):
        yield "treads", str(treads.parts)
    rail = next((x for x in layers if x.finished and RAIL.search(x.name) and x.thickness), None)
    if rail is not None:
        yield from (("rail_deep", number_written(rail.thickness)),
                    ("rail_wide", number_written(rail.thickness)))  # fmt: skip
    for field, material in (("board", "board"), ("plaster", "plaster")):
        thick = _thick(layers, material)
        if thick:
            yield field, number_written(thick)


def _stairs(snapshot: Snapshot, detail: Detail, at: AtWork) -> Fields:
    """With a riser more than treads: the last one leads to the floor above."""
    treads = _treads(layers_of_detail(snapshot, detail.id))
    if treads is None:
        return
    yield "count", str(treads.parts + 1)
    if treads.thickness:
        yield "tread", number_written(treads.thickness)


def _drying(snapshot: Snapshot, detail: Detail, at: AtWork) -> Fields:
    wet = [a for a in snapshot.chain_of(detail.id) if a.kind == "task" and a.wet]
    done = {id for id, _ in at.coats()}
    put_on = [a for a in wet if a.id in done]
    work = max(put_on, key=_when, default=wet[-1] if wet else None)
    if work is None:
        return
    if work.id in done:
        yield "coat", work.id
    stuff = stuff_of(snapshot, work)
    if stuff in STUFFS:
        yield "stuff", stuff
    layers = [snapshot.layers[e.layer_id] for e in snapshot.effects_of.get(work.id, ())
              if e.verb == "puts in"]  # fmt: skip
    thick = _thick(layers, "")
    if thick:
        yield "thick", number_written(thick)


def _joint(snapshot: Snapshot, detail: Detail, at: AtWork) -> Fields:
    read = {id for id, _ in at.rooms()}
    places = [place_of(snapshot, a) for a in snapshot.chain_of(detail.id)]
    place = next((id for id in (detail.place_id, *places) if id in read), None)
    if place:
        yield "place", place


def _treads(layers: tuple[Layer, ...] | list[Layer]) -> Layer | None:
    """The layer of the finished treads: one that comes in parts that are called so."""
    called = (x for x in layers if x.parts and x.part_name.casefold() == TREAD)
    return max(called, key=lambda layer: layer.finished, default=None)


def _thick(layers: tuple[Layer, ...] | list[Layer], material: str) -> Fraction:
    """The layers of a material, by a word of it, on the side that has most; in inches."""
    sides: dict[str, Fraction] = {}
    for layer in layers:
        if material in layer.material.casefold() and layer.thickness is not None:
            sides[layer.side_id] = sides.get(layer.side_id, Fraction(0)) + layer.thickness
    return max(sides.values(), default=Fraction(0))


def _when(work: Activity) -> str:
    return str(work.finished)


FILLED: Mapping[str, Callable[[Snapshot, Detail, AtWork], Fields]] = {
    "stairs": _stairs,
    "standoffs": _stand_offs,
    "drying": _drying,
    "joint": _joint,
}
"""By the figure's name; lengths in inches."""
