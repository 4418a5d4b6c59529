"""Whether the names inside a pattern hold: each key once, nothing named that is not there."""

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from server.core.particulars import GOES_WITH, STUFFS
from server.core.patterns import Pattern, PatternActivity, PatternLayer
from server.data.tables import BadFile, Table

ON_LAYERS = ("puts_in", "covers", "opens", "needs_open")


def refuse_loose_ends(pattern: Pattern, head: Table) -> None:
    """Raises `BadFile` at the first key that stands twice or leads nowhere, and at a ring."""
    layers = {layer.key: layer for layer in pattern.layers}
    keys = [*(layer.key for layer in pattern.layers), *(a.key for a in pattern.chain)]
    for key in keys:
        if keys.count(key) > 1:
            raise _at(head, key, "key", f"{key!r} stands twice")
    for layer in pattern.layers:
        if layer.within and layer.within not in layers:
            raise _at(head, layer.key, "within", f"there is no layer {layer.within!r}")
    decisions = {a.key for a in pattern.chain if a.kind == "decision"}
    before = {a.key: [dependency.before for dependency in a.after] for a in pattern.chain}
    for a in pattern.chain:
        for field, key in _named_layers(a):
            if key not in layers:
                raise _at(head, a.key, field, f"there is no layer {key!r}")
        _refuse_parts(a, layers, head)
        _refuse_particulars(a, head)
        if a.sample and a.sample not in decisions:
            raise _at(head, a.key, "sample", f"there is no decision {a.sample!r}")
        for key in before[a.key]:
            if key not in before:
                raise _at(head, a.key, "after", f"there is no activity {key!r}")
    try:
        TopologicalSorter(before).prepare()
    except CycleError as error:
        ring: list[str] = error.args[1]
        raise _at(head, ring[0], "after", f"a ring: {', '.join(ring)}") from None


def _named_layers(a: PatternActivity) -> Iterator[tuple[str, str]]:
    for field in ON_LAYERS:
        for key in getattr(a, field):
            yield field, key
    if a.measured_from:
        yield "measured_from", a.measured_from
    for key in a.check.looks_at if a.check else ():
        yield "looks_at", key


def _refuse_parts(a: PatternActivity, layers: dict[str, PatternLayer], head: Table) -> None:
    for field in ON_LAYERS:
        for key, parts in getattr(a, field).items():
            if any(not 1 <= part <= layers[key].parts for part in parts):
                raise _at(head, a.key, field, f"{key!r} has not so many parts")


def _refuse_particulars(a: PatternActivity, head: Table) -> None:
    for name, kinds in GOES_WITH.items():
        field = name.removesuffix("_id")
        if getattr(a, field, None) and a.kind not in kinds:
            raise _at(head, a.key, field, f"goes with {', '.join(kinds)}")
    if a.stuff and a.stuff not in STUFFS:
        raise _at(head, a.key, "stuff", f"{a.stuff!r} is none of {', '.join(STUFFS)}")
    if a.fire_watch and not a.hot:
        raise _at(head, a.key, "fire_watch", "goes with hot")
    for key in a.puts_in.keys() & a.needs_open.keys():
        raise _at(head, a.key, "needs_open", f"{key!r} is put in by it")


def _at(head: Table, key: str, field: str, why: str) -> BadFile:
    """What to raise for a field of the thing with this key."""
    line = next(n for n, text in enumerate(head.lines, 1) if text.strip() == f'key = "{key}"')
    return Table({}, head.file, head.lines, line - 1).bad(field, why)
