"""Patterns at random, as hypothesis draws them: everything a pattern can say."""

from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from server.core.patterns import (
    Pattern,
    PatternActivity,
    PatternAsk,
    PatternCheck,
    PatternDependency,
    PatternLayer,
    PatternSide,
)

odd = st.sampled_from(['it\'s "so"', "a\\b", "# no comment", "[[chain]]", "階段", "key = 1"])
names = odd | st.text(st.characters(exclude_categories=("Cc", "Cs")), min_size=1, max_size=12)
tags = st.sampled_from(["P", "M", ""])
lengths = st.fractions(Fraction(-99), Fraction(99), max_denominator=64)
minutes = st.integers(1, 20_000)
TASK_FLAGS = ("overhead", "wet", "dirty", "heavy", "finish_wood", "shakes", "carries_datum")


@st.composite
def patterns(draw: st.DrawFn) -> Pattern:
    """A pattern that holds together."""
    sides = draw(st.lists(names, max_size=3, unique_by=str.casefold))
    numbers = [draw(st.integers(0, 3)) for _ in sides]
    layers = [f"layer {n}" for n in range(sum(numbers))]
    parts = {key: draw(st.integers(0, 5)) for key in layers}
    left = iter(layers)
    of_sides = [[next(left) for _ in range(number)] for number in numbers]
    chain: list[PatternActivity] = []
    for number in range(draw(st.integers(1, 6))):
        chain.append(_activity(draw, f"key {number}", chain, parts))
    return Pattern(
        id="random",
        name=draw(names),
        about=draw(names),
        source=draw(names),
        sides=tuple(
            PatternSide(
                name=name,
                layers=tuple(_layer(draw, key, own[:at], parts) for at, key in enumerate(own)),
            )
            for name, own in zip(sides, of_sides, strict=True)
        ),
        chain=tuple(chain),
    )


def _layer(draw: st.DrawFn, key: str, below: list[str], parts: dict[str, int]) -> PatternLayer:
    return PatternLayer(
        key=key,
        name=draw(names),
        material=draw(names),
        thickness=draw(st.none() | lengths.filter(lambda length: length > 0)),
        part_name=draw(st.just("") | names),
        parts=parts[key],
        within=draw(st.sampled_from(["", *below])),
        must_be_seen=draw(st.booleans()),
        finished=draw(st.booleans()),
        powered=draw(st.booleans()),
        passes_through=draw(st.booleans()),
        tag=draw(tags),
    )


def _activity(
    draw: st.DrawFn, key: str, before: list[PatternActivity], parts: dict[str, int]
) -> PatternActivity:
    kind = draw(st.sampled_from(["task", "wait", "hold", "delivery", "decision"]))
    work = draw(minutes) if kind not in ("hold", "decision") else 0
    off = draw(st.none() | st.integers(0, work))
    some: dict[str, Any] = {}
    if kind == "task":
        some = {flag: draw(st.booleans()) for flag in TASK_FLAGS}
        some |= {"hot": draw(st.booleans()), "circuit": draw(st.just("") | names)}
        some["fire_watch"] = some["hot"] and draw(st.booleans())
        on = [(layer, draw(_some_of(number))) for layer, number in parts.items()]
        some["puts_in"] = dict(on[::2])
        some["covers"] = dict(on[1::2])
        some["needs_open"] = dict(on[1::2])
    if kind in ("task", "wait"):
        some["stuff"] = draw(st.sampled_from(["", "lime", "grout"]))
    if kind == "delivery":
        some["review"] = draw(st.just(0) | minutes)
    if kind != "wait":
        some["who"] = draw(st.just("") | names)
    decisions = [a.key for a in before if a.kind == "decision"]
    if kind in ("task", "hold", "delivery"):
        some["sample"] = draw(st.sampled_from(["", *decisions]))
    comes_after = (
        draw(st.lists(st.sampled_from(before), max_size=2, unique_by=lambda a: a.key))
        if before
        else []
    )
    return PatternActivity(
        key=key,
        kind=kind,
        name=draw(names),
        work=work,
        low=None if off is None else work - off,
        high=None if off is None else work + off,
        note=draw(st.just("") | names),
        owes=draw(st.just("") | names),
        hours=draw(st.just("") | names),
        way_in=draw(st.just("") | names) if kind in ("task", "delivery") else "",
        edge=draw(st.sampled_from(["", "opens", "closes"])),
        off_site=draw(st.booleans()),
        measured_from=draw(st.sampled_from(["", *parts])),
        after=tuple(_dependency(draw, one.key) for one in comes_after),
        check=_check(draw, list(parts)) if kind == "hold" else None,
        tag=draw(tags),
        **some,
    )


def _some_of(parts: int) -> st.SearchStrategy[tuple[int, ...]]:
    if not parts:
        return st.just(())
    return st.sets(st.integers(1, parts)).map(lambda chosen: tuple(sorted(chosen)))


def _dependency(draw: st.DrawFn, before: str) -> PatternDependency:
    lag = draw(st.integers(-900, 9000))
    most = draw(st.none() | st.integers(max(lag, 0), 10_000))
    return PatternDependency(
        before=before,
        type=draw(st.sampled_from(["FS", "SS", "FF", "SF"])),
        lag=lag,
        lag_on=draw(st.sampled_from(["clock", "work"])),
        most=most,
        tag=draw(tags) if lag or most is not None else "P",
    )


def _check(draw: st.DrawFn, layers: list[str]) -> PatternCheck:
    parts = draw(st.integers(0, 9))
    return PatternCheck(
        what=draw(names),
        datum=draw(st.just("") | names),
        photos=draw(st.integers(0, 9)),
        marks=draw(st.just("") | names),
        releases=draw(names | st.sampled_from(["super", "authority"])),
        witness=draw(st.booleans()),
        own_mark_ok=draw(st.booleans()),
        notice=draw(st.integers(0, 9000)),
        looks_at=tuple(draw(st.sets(st.sampled_from(layers)))) if layers else (),
        part_name=draw(st.just("No.") | names),
        parts=parts,
        asks=tuple(_ask(draw, parts) for _ in range(draw(st.integers(0, 3)))),
        source=draw(st.just("") | names),
        tag=draw(tags),
    )


def _ask(draw: st.DrawFn, parts: int) -> PatternAsk:
    if draw(st.booleans()):
        return PatternAsk(label=draw(names), unit="yes", tag=draw(tags))
    far_low, low, high, far_high = sorted(draw(lengths) for _ in range(4))
    nominal = draw(st.none() | lengths | st.just((low + high) / 2))
    each = bool(parts) and draw(st.booleans())
    far = draw(st.booleans())
    return PatternAsk(
        label=draw(names),
        unit=draw(st.sampled_from(["in", "mm"])),
        each=each,
        part=draw(st.none() | st.integers(1, parts)) if parts and not each else None,
        nominal=nominal,
        low=low,
        high=high,
        far_low=far_low if far else None,
        far_high=far_high if far else None,
        tag=draw(tags),
    )
