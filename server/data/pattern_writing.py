"""A pattern as the text of a file that people can read and put right: what `read_pattern` reads.

Only what differs from the ordinary is written. Numbers stand as on a tape, times in the largest
unit that says them plainly.
"""

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from server.core.patterns import (
    Pattern,
    PatternActivity,
    PatternAsk,
    PatternCheck,
    PatternDependency,
    PatternLayer,
)
from server.data.pattern_reading import read_pattern
from server.data.tables import CLOCK_DAY, BadFile, number_text
from server.data.tables import WORK_DAY as DAY

WEEK = 5 * DAY
HEAD = """\
# A pattern: the sides and layers of a detail, its order of work and its checks.
#
# [[side]] is a face that a person looks at, [[side.layer]] each layer of it from the bearing side
# to the room side. [[chain]] is one task, wait, hold (a check before cover), delivery or decision;
# [chain.check] says what a check looks at. key is a word of this file: after, covers, puts_in and
# the like name others by it. who, along and marks are trades, owes and releases are roles ("super",
# "authority" for an outside look, or any other word). Lengths are inches, written as on a tape.
# takes is working time, where a day has 8 hours and a week 5 days; in a wait a day has 24 hours.
# tag says where a number comes from: "P" common practice, "M" from memory of a published figure,
# "own" the company's own.
#
# Its numbers are a start. The engineer, the local code and the authority having jurisdiction rule.
"""
Scale = tuple[tuple[int, str, int, int], ...]
"""Units: minutes, name, into how many pieces it may be cut, and the minutes it is used from."""

HOURS = (60, "h", 4, 0)
WORK: Scale = ((DAY, "d", 4, DAY), HOURS)
LEAD: Scale = ((WEEK, "wk", 2, 2 * WEEK), *WORK)
CLOCK: Scale = ((CLOCK_DAY, "days", 1, 3 * CLOCK_DAY), HOURS)
FLAGS = (
    *("off_site", "one_day", "overhead", "wet", "dirty", "hot", "heavy", "closes_place"),
    *("finish_wood", "shakes", "fire_watch", "carries_datum"),
)
TEXTS = (
    *("hours", "opens_way", "closes_way", "way_in", "edge", "stuff", "circuit"),
    *("sample", "measured_from"),
)


def pattern_text(pattern: Pattern) -> str:
    """The file of a pattern: reading it gives the same pattern again."""
    tag = Counter(_tags(pattern)).most_common(1)[0][0] if any(_tags(pattern)) else "P"
    head = [f"{name} = {_quoted(getattr(pattern, name))}" for name in ("id", "name", "about")]
    head.append(f"source = {_quoted(pattern.source)}")
    head += _tagged(tag, "P")
    parts = ["\n".join(head)]
    for side in pattern.sides:
        parts.append(f"[[side]]\nname = {_quoted(side.name)}")
        parts += ["\n".join(_layer(layer, tag)) for layer in side.layers]
    parts += ["\n".join(_activity(a, tag)) for a in pattern.chain]
    return f"{HEAD}\n" + "\n\n".join(parts) + "\n"


def renamed(text: str, name: str) -> str:
    """The text of a pattern with another name, everything else in it as it was written."""
    pattern = read_pattern(text, "")
    other = replace(pattern, name=name)
    line = f"name = {_quoted(name)}"
    changed = re.sub(r"(?m)^[ \t]*name[ \t]*=.*$", lambda _: line, text, count=1)
    try:
        return changed if read_pattern(changed, "") == other else pattern_text(other)
    except BadFile:  # the name was written in a way of its own
        return pattern_text(other)


def _tags(pattern: Pattern) -> Iterator[str]:
    for layer in pattern.layers:
        yield layer.tag or "own"
    for a in pattern.chain:
        yield a.tag or "own"
        if a.check is not None:
            yield a.check.tag or "own"
            yield from (ask.tag or "own" for ask in a.check.asks)


def _tagged(tag: str, usual: str) -> list[str]:
    return [f"tag = {_quoted(tag or 'own')}"] if (tag or "own") != usual else []


def _layer(layer: PatternLayer, tag: str) -> Iterator[str]:
    yield "[[side.layer]]"
    yield from _texts(layer, "key", "name", "material")
    if layer.thickness is not None:
        yield f"thickness = {_number(layer.thickness)}"
    yield from _texts(layer, "part_name")
    if layer.parts:
        yield f"parts = {layer.parts}"
    yield from _texts(layer, "within")
    yield from _flags(layer, "passes_through", "must_be_seen", "finished", "powered")
    yield from _tagged(layer.tag, tag)


def _activity(a: PatternActivity, tag: str) -> Iterator[str]:
    scale = {"wait": CLOCK, "delivery": LEAD}.get(a.kind, WORK)
    yield "[[chain]]"
    yield from _texts(a, "key", "kind", "name", "note", "who")
    yield from _list("along", map(_quoted, a.along))
    yield from _texts(a, "owes")
    if a.work:
        yield f'takes = "{_time(a.work, scale)}"'
    if a.low is not None and a.high is not None:
        yield f'range = "{_range(a.low, a.high, scale)}"'
    yield from _flags(a, *FLAGS)
    yield from _texts(a, *TEXTS)
    if a.review:
        yield f'review = "{_time(a.review, CLOCK)}"'
    for name in ("puts_in", "covers", "opens", "needs_open"):
        yield from _list(name, _on_layers(getattr(a, name)))
    yield from _list("after", (_dependency(d, tag) for d in a.after))
    yield from _tagged(a.tag, tag)
    if a.check is not None:
        yield from _check(a.check, tag)


def _check(check: PatternCheck, tag: str) -> Iterator[str]:
    yield "[chain.check]"
    yield from _texts(check, "what", "datum", "tool")
    if check.photos:
        yield f"photos = {check.photos}"
    yield from _texts(check, "photo_note", "marks")
    if check.releases != "super":
        yield from _texts(check, "releases")
    yield from _flags(check, "witness", "own_mark_ok")
    if check.notice:
        yield f'notice = "{_time(check.notice, CLOCK)}"'
    yield from _list("looks_at", map(_quoted, check.looks_at))
    if check.parts or check.part_name != "No.":
        yield from _texts(check, "part_name")
        yield f"parts = {check.parts}"
    yield from _texts(check, "source")
    yield from _tagged(check.tag, tag)
    if check.asks:
        yield "asks = ["
        yield from (f"  {_ask(ask, tag)}," for ask in check.asks)
        yield "]"


def _ask(ask: PatternAsk, tag: str) -> str:
    fields = [f"label = {_quoted(ask.label)}"]
    if ask.unit != "in":
        fields.append(f"unit = {_quoted(ask.unit)}")
    fields += _flags(ask, "each")
    if ask.part is not None:
        fields.append(f"part = {ask.part}")
    if ask.nominal is not None:
        fields.append(f"nominal = {_number(ask.nominal)}")
    fields += _limits(ask, "low", "high", "within")
    fields += _limits(ask, "far_low", "far_high", "ask_beyond")
    fields += _tagged(ask.tag, tag)
    return f"{{ {', '.join(fields)} }}"


def _limits(ask: PatternAsk, low: str, high: str, both: str) -> list[str]:
    """Two limits, or how far both are off the nominal."""
    ends: dict[str, Fraction | None] = {low: getattr(ask, low), high: getattr(ask, high)}
    least, most, nominal = ends[low], ends[high], ask.nominal
    if least is None or most is None or nominal is None or most < nominal:
        pass
    elif nominal - least == most - nominal:
        return [f"{both} = {_number(most - nominal)}"]
    return [f"{name} = {_number(end)}" for name, end in ends.items() if end is not None]


def _dependency(d: PatternDependency, tag: str) -> str:
    if d == PatternDependency(before=d.before):
        return _quoted(d.before)
    fields = [f"before = {_quoted(d.before)}"]
    if d.type != "FS":
        fields.append(f"type = {_quoted(d.type)}")
    if d.lag:
        fields.append(f'wait = "{_time(d.lag, WORK if d.lag_on == "work" else CLOCK)}"')
    if d.lag_on != "clock":
        fields.append(f"on = {_quoted(d.lag_on)}")
    if d.most is not None:
        fields.append(f'within = "{_time(d.most, CLOCK)}"')
    fields += _tagged(d.tag, tag if d.lag or d.most is not None else "P")
    return f"{{ {', '.join(fields)} }}"


def _on_layers(on: Mapping[str, tuple[int, ...]]) -> Iterator[str]:
    for key, parts in on.items():
        some = f"{{ layer = {_quoted(key)}, parts = {list(parts)} }}"
        yield some if parts else _quoted(key)


def _texts(thing: object, *names: str) -> list[str]:
    texts = ((name, getattr(thing, name)) for name in names)
    return [f"{name} = {_quoted(text)}" for name, text in texts if text]


def _flags(thing: object, *names: str) -> list[str]:
    return [f"{name} = true" for name in names if getattr(thing, name)]


def _list(name: str, items: Iterable[str]) -> list[str]:
    written = ", ".join(items)
    return [f"{name} = [{written}]"] if written else []


def _quoted(text: str) -> str:
    """A text as TOML has it: as JSON has it, but for one sign."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _number(value: Fraction) -> str:
    return f'"{"-" if value < 0 else ""}{number_text(abs(value))}"'


def _time(minutes: int, scale: Scale) -> str:
    size, unit = _unit((abs(minutes),), scale)
    return f"{'-' if minutes < 0 else ''}{number_text(Fraction(abs(minutes), size))} {unit}"


def _range(low: int, high: int, scale: Scale) -> str:
    size, unit = _unit((low, high), scale)
    return f"{number_text(Fraction(low, size))} to {number_text(Fraction(high, size))} {unit}"


def _unit(times: tuple[int, ...], scale: Scale) -> tuple[int, str]:
    """The first unit of a scale that says all of these times in the pieces it may be cut into."""
    for size, unit, pieces, least in scale:
        if max(times) >= least and not any(time * pieces % size for time in times):
            return size, unit
    return 1, "min"
