"""Whether the names inside a pattern hold: each key once, nothing named that is not there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from server.core.particulars import GOES_WITH, STUFFS
from server.core.patterns import Pattern, PatternActivity, PatternLayer
from server.data.tables import BadFile, Table, shown

ON_LAYERS = ("puts_in", "covers", "opens", "needs_open")
OF_A_TASK = dict.fromkeys(ON_LAYERS, ("task",))
OF_A_CREW = dict.fromkeys(("who", "along"), ("task", "hold", "delivery", "decision"))


@dataclass(frozen=True)
class Places:
    """Where the things of a file stand: name of a side or key of the rest -> line of its header."""

    head: Table
    sides: Mapping[str, int]
    keys: Mapping[str, int]

    def bad(self, key: str, field: str, why: str) -> BadFile:
        """What to raise for a field of the thing with this key."""
        return self._table(self.keys[key]).bad(field, why)

    def bad_side(self, name: str, why: str) -> BadFile:
        """What to raise for the name of a side."""
        return self._table(self.sides[name]).bad("name", why)

    def _table(self, line: int) -> Table:
        return Table({}, self.head.file, self.head.lines, line)


def refuse_loose_ends(pattern: Pattern, at: Places) -> None:
    """Raises `BadFile` at the first key that stands twice or leads nowhere, and at a ring."""
    _refuse_twice(pattern, at)
    _refuse_within(pattern, at)
    layers = {layer.key: layer for layer in pattern.layers}
    decisions = {a.key for a in pattern.chain if a.kind == "decision"}
    before = {a.key: [dependency.before for dependency in a.after] for a in pattern.chain}
    for a in pattern.chain:
        for field, key in _named_layers(a):
            if key not in layers:
                raise at.bad(a.key, field, f"there is no layer {shown(key)}")
        _refuse_parts(a, layers, at)
        _refuse_particulars(a, at)
        if a.sample and a.sample not in decisions:
            raise at.bad(a.key, "sample", f"there is no decision {shown(a.sample)}")
        for key in before[a.key]:
            if key not in before:
                raise at.bad(a.key, "after", f"there is no activity {shown(key)}")
    try:
        TopologicalSorter(before).prepare()
    except CycleError as error:
        ring: list[str] = error.args[1]
        raise at.bad(ring[0], "after", f"a ring: {', '.join(ring)}") from None


def _refuse_twice(pattern: Pattern, at: Places) -> None:
    names = [side.name.casefold() for side in pattern.sides]
    for side in pattern.sides:
        if names.count(side.name.casefold()) > 1:
            raise at.bad_side(side.name, f"{shown(side.name)} stands twice")
    keys = [*(layer.key for layer in pattern.layers), *(a.key for a in pattern.chain)]
    for key in keys:
        if keys.count(key) > 1:
            raise at.bad(key, "key", f"{shown(key)} stands twice")


def _refuse_within(pattern: Pattern, at: Places) -> None:
    """A layer lies within one of its own side, and never, over however many, within itself."""
    for side in pattern.sides:
        within = {layer.key: layer.within for layer in side.layers}
        for key, outer in within.items():
            if outer and outer not in within:
                raise at.bad(key, "within", f"there is no layer {shown(outer)} on its side")
            seen = {key}
            while outer:
                if outer in seen:
                    raise at.bad(key, "within", "lies within itself")
                seen.add(outer)
                outer = within[outer]


def _named_layers(a: PatternActivity) -> Iterator[tuple[str, str]]:
    for field in ON_LAYERS:
        for key in getattr(a, field):
            yield field, key
    if a.measured_from:
        yield "measured_from", a.measured_from
    for key in a.check.looks_at if a.check else ():
        yield "looks_at", key


def _refuse_parts(a: PatternActivity, layers: dict[str, PatternLayer], at: Places) -> None:
    for field in ON_LAYERS:
        for key, parts in getattr(a, field).items():
            if any(not 1 <= part <= layers[key].parts for part in parts):
                raise at.bad(a.key, field, f"{shown(key)} has not so many parts")


def _refuse_particulars(a: PatternActivity, at: Places) -> None:
    for name, kinds in {**GOES_WITH, **OF_A_TASK, **OF_A_CREW}.items():
        field = name.removesuffix("_id")
        if getattr(a, field, None) and a.kind not in kinds:
            raise at.bad(a.key, field, f"goes with {', '.join(kinds)}")
    if a.stuff and a.stuff not in STUFFS:
        raise at.bad(a.key, "stuff", f"{shown(a.stuff)} is none of {', '.join(STUFFS)}")
    if a.fire_watch and not a.hot:
        raise at.bad(a.key, "fire_watch", "goes with hot")
    for key in sorted(a.puts_in.keys() & a.needs_open.keys()):
        raise at.bad(a.key, "needs_open", f"{shown(key)} is put in by it")
    for key in sorted(a.puts_in.keys() & a.covers.keys()):
        raise at.bad(a.key, "covers", f"{shown(key)} is put in by it")
    if a.who in a.along:
        raise at.bad(a.key, "along", f"{shown(a.who)} does it already")
