"""A pattern read from the text of its file. A wrong one is refused with its line and field.

A file says `[[side]]` with its `[[side.layer]]`s from the bearing side to the room side, then
`[[chain]]` for each activity, its check in `[chain.check]`. Times are "2 h", "1 1/2 d", "3 wk": a
day of work has 8 hours and a week 5 days, a day of a wait has 24 hours and a week 7 days. Numbers
are tagged "P" (common practice), "M" (from memory of a published figure) or "own"; `tag` at the
head of a file goes for all that say nothing else.
"""

from collections.abc import Iterator
from typing import Any

from server.core.changes.plan_facts import MOST_CLOCK, MOST_WORK
from server.core.changes.rules_plan_layers import MOST_PARTS, THICKEST
from server.core.patterns import (
    Pattern,
    PatternActivity,
    PatternDependency,
    PatternLayer,
    PatternSide,
)
from server.data.pattern_checks import check_of
from server.data.pattern_tables import headed, inner, read_toml, tag_of
from server.data.references import Places, refuse_loose_ends
from server.data.tables import CLOCK_DAY, WORK_DAY, BadFile, Table, shown

KINDS = ("task", "wait", "hold", "delivery", "decision")
WORK = (WORK_DAY, 5 * WORK_DAY)
CLOCK = (CLOCK_DAY, 7 * CLOCK_DAY)
MOST_SIDES = 20
MOST_LAYERS = 200
MOST_ACTIVITIES = 400
MOST_ROWS = 4000
"""How many orders, and how many things done to layers, one pattern may have."""
LONG = 2000
KEY = 60


def read_pattern(text: str, file: str) -> Pattern:
    """A pattern from the text of its file. Raises `BadFile`."""
    head = read_toml(text, file)
    head.tag = tag_of(head)
    sides = headed(head, "side", MOST_SIDES)
    chain = headed(head, "chain", MOST_ACTIVITIES)
    if not chain:
        raise head.bad("chain", "is missing: an order of work has at least one [[chain]]")
    layers = headed(head, "side.layer", MOST_LAYERS)
    keyed = {table.text("key", most=KEY): table.line for table in (*layers, *chain)[::-1]}
    places = Places(head, {t.text("name"): t.line for t in sides[::-1]}, keyed)
    waiting = iter(layers)
    found = Pattern(
        id=head.text("id", most=KEY),
        name=head.text("name"),
        about=head.text("about", most=LONG),
        source=head.text("source", most=LONG),
        sides=tuple(_side(table, waiting) for table in sides),
        chain=tuple(_activity(table) for table in chain),
    )
    head.done()
    _refuse_too_much(found, head)
    refuse_loose_ends(found, places)
    return found


def _side(table: Table, layers: Iterator[Table]) -> PatternSide:
    own = [next(layers) for _ in table.take("layer", list, [])]
    side = PatternSide(name=table.text("name"), layers=tuple(_layer(layer) for layer in own))
    table.done()
    return side


def _layer(table: Table) -> PatternLayer:
    layer = PatternLayer(
        key=table.text("key", most=KEY),
        name=table.text("name"),
        material=table.text("material", most=60),
        thickness=table.length("thickness"),
        part_name=table.maybe("part_name", most=40),
        parts=table.count("parts", MOST_PARTS),
        within=table.maybe("within"),
        passes_through=table.flag("passes_through"),
        must_be_seen=table.flag("must_be_seen"),
        finished=table.flag("finished"),
        powered=table.flag("powered"),
        tag=tag_of(table),
    )
    if layer.thickness is not None and not 0 < layer.thickness <= THICKEST:
        raise table.bad("thickness", f"has to be over 0 and at most {THICKEST} in")
    table.done()
    return layer


def _activity(table: Table) -> PatternActivity:
    kind = table.one_of("kind", KINDS)
    if (kind == "hold") != ("check" in table.values):
        raise table.bad("check", "goes with kind hold, and only with it")
    work, low, high = _takes(table, kind)
    activity = PatternActivity(
        key=table.text("key", most=KEY),
        kind=kind,
        name=table.text("name"),
        work=work,
        low=low,
        high=high,
        note=table.maybe("note", most=LONG),
        who=table.maybe("who"),
        along=table.names("along"),
        owes=table.maybe("owes"),
        after=_after(table),
        off_site=table.flag("off_site"),
        hours=table.maybe("hours"),
        one_day=table.flag("one_day"),
        overhead=table.flag("overhead"),
        wet=table.flag("wet"),
        dirty=table.flag("dirty"),
        hot=table.flag("hot"),
        heavy=table.flag("heavy"),
        opens_way=table.maybe("opens_way"),
        closes_way=table.maybe("closes_way"),
        way_in=table.maybe("way_in"),
        edge=table.one_of("edge", ("opens", "closes")) if "edge" in table.values else "",
        closes_place=table.flag("closes_place"),
        finish_wood=table.flag("finish_wood"),
        shakes=table.flag("shakes"),
        stuff=table.maybe("stuff"),
        fire_watch=table.flag("fire_watch"),
        circuit=table.maybe("circuit", most=40),
        sample=table.maybe("sample"),
        carries_datum=table.flag("carries_datum"),
        measured_from=table.maybe("measured_from"),
        review=_no_longer(table, "review", table.time("review", *CLOCK) or 0, MOST_CLOCK),
        puts_in=_on_layers(table, "puts_in"),
        covers=_on_layers(table, "covers"),
        opens=_on_layers(table, "opens"),
        needs_open=_on_layers(table, "needs_open"),
        check=check_of(table) if kind == "hold" else None,
        tag=tag_of(table),
    )
    table.done()
    return activity


def _takes(table: Table, kind: str) -> tuple[int, int | None, int | None]:
    """The minutes that it takes, at least and at most."""
    scale, most = (CLOCK, MOST_CLOCK) if kind == "wait" else (WORK, MOST_WORK)
    work = _no_longer(table, "takes", table.time("takes", *scale) or 0, most)
    low, high = table.range("range", *scale) or (None, None)
    if low is not None and high is not None and not low <= work <= high:
        raise table.bad("range", "does not hold what it takes")
    _no_longer(table, "range", high or 0, most)
    if kind in ("task", "wait", "delivery") and not work:
        raise table.bad("takes", "is missing" if "takes" not in table.values else "is nothing")
    return work, low, high


def _no_longer(table: Table, name: str, minutes: int, most: int) -> int:
    if minutes > most:
        raise table.bad(name, "is longer than two years")
    return minutes


def _after(table: Table) -> tuple[PatternDependency, ...]:
    """What an activity comes after, each in one way once."""
    found = tuple(_dependency(table, item) for item in table.take("after", list, []))
    ways = [(dependency.before, dependency.type) for dependency in found]
    for way in ways:
        if ways.count(way) > 1:
            raise table.bad("after", f"names {shown(way[0])} twice")
    return found


def _dependency(table: Table, item: Any) -> PatternDependency:
    if isinstance(item, str):
        return PatternDependency(before=item)
    one = inner(table, "after", item)
    lag_on = one.one_of("on", ("clock", "work"), "clock")
    lag = one.time("wait", *(WORK if lag_on == "work" else CLOCK), back=True) or 0
    most = one.time("within", *CLOCK)
    # where there is no number, there is nothing to tag
    tag = tag_of(one) if lag or most is not None or "tag" in one.values else "P"
    found = PatternDependency(
        before=one.text("before"),
        type=one.one_of("type", ("FS", "SS", "FF", "SF"), "FS"),
        lag=lag,
        lag_on=lag_on,
        most=most,
        tag=tag,
    )
    _no_longer(table, "after", max(abs(lag), most or 0), MOST_CLOCK)
    if most is not None and lag > most:
        raise table.bad("after", f"waits longer after {shown(found.before)} than it may")
    one.done()
    return found


def _on_layers(table: Table, name: str) -> dict[str, tuple[int, ...]]:
    """What a task does to layers: a key for all of one, or { layer, parts } for some of it."""
    found: dict[str, tuple[int, ...]] = {}
    for item in table.take(name, list, []):
        key, parts = (item, ()) if isinstance(item, str) else _some(table, name, item)
        if key in found:
            raise table.bad(name, f"names {shown(key)} twice")
        found[key] = parts
    return found


def _some(table: Table, name: str, item: Any) -> tuple[str, tuple[int, ...]]:
    one = inner(table, name, item)
    key, parts = one.text("layer"), one.take("parts", list)
    one.done()
    if not parts or not all(type(part) is int for part in parts):
        raise table.bad(name, f"parts of {shown(key)} are a list of whole numbers, as [1, 2]")
    if len(set(parts)) < len(parts):
        raise table.bad(name, f"names a part of {shown(key)} twice")
    return key, tuple(parts)


def _refuse_too_much(found: Pattern, head: Table) -> None:
    """What would become more rows than anybody can look at."""
    orders = sum(len(a.after) for a in found.chain)
    done = sum(len(on) for a in found.chain for on in (a.puts_in, a.covers, a.opens, a.needs_open))
    asked = sum(
        a.check.parts if ask.each else 1 for a in found.chain if a.check for ask in a.check.asks
    )
    for what, number in (("after", orders), ("puts_in", done), ("asks", asked)):
        if number > MOST_ROWS:
            why = f"comes to {number} in all; a pattern has at most {MOST_ROWS}"
            raise BadFile(head.file, 1, what, why)
