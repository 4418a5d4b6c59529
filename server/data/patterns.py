"""Patterns read from their files. A wrong file is refused with its line and field.

A file says `[[side]]` with its `[[side.layer]]`s from the bearing side to the room side, then
`[[chain]]` for each activity, its check in `[chain.check]`. Times are "2 h", "1 1/2 d", "3 wk": a
day of work has 8 hours and a week 5 days, a day of a wait has 24 hours and a week 7 days.
"""

import tomllib
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from server.core.measure.units import UNITS
from server.core.patterns import (
    Pattern,
    PatternActivity,
    PatternAsk,
    PatternCheck,
    PatternDependency,
    PatternLayer,
    PatternSide,
)
from server.data.references import refuse_loose_ends
from server.data.tables import CLOCK_DAY, WORK_DAY, BadFile, Table

FOLDER = Path(__file__).parent / "patterns"
KINDS = ("task", "wait", "hold", "delivery", "decision")
WORK = (WORK_DAY, 5 * WORK_DAY)
CLOCK = (CLOCK_DAY, 7 * CLOCK_DAY)


@cache
def all_patterns() -> tuple[Pattern, ...]:
    """Every pattern that ships with the program, by name."""
    files = sorted(FOLDER.glob("*.toml"))
    read = (read_pattern(file.read_text("utf-8"), file.name) for file in files)
    return tuple(sorted(read, key=lambda pattern: pattern.name))


def pattern(id: str) -> Pattern:
    """The pattern with this id; `LookupError` if there is none."""
    for found in all_patterns():
        if found.id == id:
            return found
    raise LookupError(f"no pattern {id!r}")


def read_pattern(text: str, file: str) -> Pattern:
    """A pattern from the text of its file. Raises `BadFile`."""
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadFile(file, _line_in(str(error)), "the file", str(error)) from None
    lines = text.splitlines()
    head = Table(values, file, lines, 0)
    found = Pattern(
        id=head.text("id"),
        name=head.text("name"),
        about=head.text("about"),
        source=head.text("source"),
        sides=tuple(_sides(head, values)),
        chain=tuple(
            _activity(table) for table in _tables(head, head.take("chain", list), "[[chain]]")
        ),
    )
    head.done()
    refuse_loose_ends(found, head)
    return found


def _sides(head: Table, values: dict[str, Any]) -> Iterator[PatternSide]:
    items = [layer for side in values.get("side", ()) for layer in side.get("layer", ())]
    layers = _tables(head, items, "[[side.layer]]")
    for table in _tables(head, head.take("side", list), "[[side]]"):
        its = [next(layers) for _ in table.take("layer", list)]
        yield PatternSide(name=table.text("name"), layers=tuple(_layer(one) for one in its))
        table.done()


def _layer(table: Table) -> PatternLayer:
    layer = PatternLayer(
        key=table.text("key"),
        name=table.text("name"),
        material=table.text("material"),
        thickness=table.length("thickness"),
        part_name=_or_none(table, "part_name"),
        parts=table.count("parts"),
        within=_or_none(table, "within"),
        passes_through=table.flag("passes_through"),
        must_be_seen=table.flag("must_be_seen"),
        finished=table.flag("finished"),
        powered=table.flag("powered"),
        tag=table.text("tag", "P"),
    )
    table.done()
    return layer


def _activity(table: Table) -> PatternActivity:
    kind = table.text("kind")
    if kind not in KINDS:
        raise table.bad("kind", f"{kind!r} is none of {', '.join(KINDS)}")
    scale = CLOCK if kind == "wait" else WORK
    work = table.time("takes", *scale) or 0
    low, high = table.range("range", *scale) or (None, None)
    if low is not None and high is not None and not low <= work <= high:
        raise table.bad("range", "does not hold what it takes")
    if kind in ("task", "wait", "delivery") and not work:
        raise table.bad("takes", "is missing")
    if (kind == "hold") != ("check" in table.values):
        raise table.bad("check", "goes with kind hold, and only with it")
    activity = PatternActivity(
        key=table.text("key"),
        kind=kind,
        name=table.text("name"),
        work=work,
        low=low,
        high=high,
        note=_or_none(table, "note"),
        who=_or_none(table, "who"),
        along=table.names("along"),
        owes=_or_none(table, "owes"),
        after=tuple(_dependency(table, item) for item in table.take("after", list, [])),
        off_site=table.flag("off_site"),
        one_day=table.flag("one_day"),
        overhead=table.flag("overhead"),
        wet=table.flag("wet"),
        dirty=table.flag("dirty"),
        hot=table.flag("hot"),
        heavy=table.flag("heavy"),
        opens_way=_or_none(table, "opens_way"),
        closes_way=_or_none(table, "closes_way"),
        edge=_or_none(table, "edge"),
        closes_place=table.flag("closes_place"),
        finish_wood=table.flag("finish_wood"),
        shakes=table.flag("shakes"),
        stuff=_or_none(table, "stuff"),
        fire_watch=table.flag("fire_watch"),
        circuit=_or_none(table, "circuit"),
        sample=_or_none(table, "sample"),
        carries_datum=table.flag("carries_datum"),
        measured_from=_or_none(table, "measured_from"),
        review=table.time("review", *CLOCK) or 0,
        puts_in=_on_layers(table, "puts_in"),
        covers=_on_layers(table, "covers"),
        opens=_on_layers(table, "opens"),
        needs_open=_on_layers(table, "needs_open"),
        check=_check(table) if kind == "hold" else None,
        tag=table.text("tag", "P"),
    )
    table.done()
    return activity


def _dependency(table: Table, item: Any) -> PatternDependency:
    if isinstance(item, str):
        return PatternDependency(before=item)
    inner = _inner(table, "after", item)
    lag_on = inner.text("on", "clock")
    found = PatternDependency(
        before=inner.text("before"),
        type=inner.text("type", "FS"),
        lag=inner.time("wait", *(WORK if lag_on == "work" else CLOCK)) or 0,
        lag_on=lag_on,
        most=inner.time("within", *CLOCK),
        tag=inner.text("tag", "P"),
    )
    if found.type not in ("FS", "SS", "FF", "SF") or lag_on not in ("clock", "work"):
        raise table.bad("after", f"{item!r} is no way to come after")
    inner.done()
    return found


def _check(table: Table) -> PatternCheck:
    inner = _inner(table, "check", table.take("check", dict))
    check = PatternCheck(
        what=inner.text("what"),
        datum=_or_none(inner, "datum"),
        tool=_or_none(inner, "tool"),
        photos=inner.count("photos"),
        photo_note=_or_none(inner, "photo_note"),
        marks=_or_none(inner, "marks"),
        releases=inner.text("releases", "super"),
        notice=inner.time("notice", *CLOCK) or 0,
        looks_at=inner.names("looks_at"),
        part_name=inner.text("part_name", "No."),
        parts=inner.count("parts"),
        asks=tuple(_ask(inner, item) for item in inner.take("asks", list, [])),
        source=_or_none(inner, "source"),
        tag=inner.text("tag", "P"),
    )
    inner.done()
    return check


def _ask(table: Table, item: Any) -> PatternAsk:
    """An ask; "within" and "ask_beyond" are short for limits as far on both sides of nominal."""
    inner = _inner(table, "asks", item)
    nominal = inner.length("nominal")
    low, high = _around(inner, nominal, "within", "low", "high")
    far_low, far_high = _around(inner, nominal, "ask_beyond", "far_low", "far_high")
    ask = PatternAsk(
        label=inner.text("label"),
        unit=inner.text("unit", "in"),
        each=inner.flag("each"),
        nominal=nominal,
        low=low,
        high=high,
        far_low=far_low,
        far_high=far_high,
        tag=inner.text("tag", "P"),
    )
    if ask.unit != "yes" and ask.unit not in UNITS:
        raise table.bad("asks", f"{ask.unit!r} is no unit")
    inner.done()
    return ask


def _around(
    table: Table, nominal: Fraction | None, both: str, low: str, high: str
) -> tuple[Fraction | None, Fraction | None]:
    off = table.length(both)
    ends = table.length(low), table.length(high)
    if off is None:
        return ends
    if nominal is None or ends != (None, None):
        raise table.bad(both, "needs a nominal, and no limits beside it")
    return nominal - off, nominal + off


def _on_layers(table: Table, name: str) -> dict[str, tuple[int, ...]]:
    """What a task does to layers: a key for all of one, or { layer, parts } for some of it."""
    found: dict[str, tuple[int, ...]] = {}
    for item in table.take(name, list, []):
        if isinstance(item, str):
            found[item] = ()
            continue
        inner = _inner(table, name, item)
        found[inner.text("layer")] = tuple(inner.take("parts", list))
        inner.done()
    return found


def _or_none(table: Table, name: str) -> str:
    return table.text(name) if name in table.values else ""


def _inner(table: Table, name: str, item: Any) -> Table:
    if not isinstance(item, dict):
        raise table.bad(name, f"{item!r} is no table")
    return Table(item, table.file, table.lines, table.line)


def _tables(head: Table, items: Iterable[Any], header: str) -> Iterator[Table]:
    """Each table of a list, with the line of its own header."""
    at = [n for n, line in enumerate(head.lines, 1) if line.strip() == header]
    for item, line in zip(items, at, strict=False):
        yield Table(item, head.file, head.lines, line)


def _line_in(error: str) -> int:
    """The line of a mistake in the TOML itself, which tomllib says only in its sentence."""
    words = error.replace(",", " ").split()
    return int(words[words.index("line") + 1]) if "line" in words else 0
