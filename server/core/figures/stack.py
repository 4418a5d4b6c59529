"""Stack of tolerances: the gap that parts leave, and between which values it may come out.

Worst case is every part at its bad end at once, `Σ|a|T`; root sum square, `√Σ(aT)²`, is for parts
that vary by chance and apart from one another. Work that is done once on site is not such a lot
of parts, so the worst case is the headline and the root sum square stands beside it. Both are
plain arithmetic (tag "C"). All lengths of a stack are in one unit.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from server.core.figures.base import BadFigure

_HAIR = 1e-9  # what floats may be off; nobody's tape shows it


class Keeping(StrEnum):
    """Whether a wanted range is kept by what is predicted."""

    UNASKED = "no range wanted"
    KEPT = "kept"
    OUT = "out of tolerance"


@dataclass(frozen=True, kw_only=True)
class Part:
    """One part of a stack: `plus` and `minus` are how far it may lie over and under its nominal.

    `sensitivity` is what one unit of it does to the gap: +1 adds, -1 takes away. A `measured`
    value takes the place of nominal and tolerance.
    """

    name: str
    nominal: float
    plus: float
    minus: float
    sensitivity: float = 1.0
    measured: float | None = None

    @property
    def value(self) -> float:
        """What it measures, or where nobody has measured, what it should."""
        return self.nominal if self.measured is None else self.measured

    @property
    def strayed(self) -> float:
        """How far the measured value lies beyond its tolerance: over +, under -, within 0."""
        over = self.value - self.nominal - self.plus
        under = self.nominal - self.minus - self.value
        return over if over > _HAIR else -under if under > _HAIR else 0.0


@dataclass(frozen=True, kw_only=True)
class Stack:
    """Parts that meet, and between which values the gap that they leave is wanted."""

    parts: tuple[Part, ...]
    least: float | None = None
    most: float | None = None


@dataclass(frozen=True)
class Between:
    """From `low` to `high`, both included; None where there is no end."""

    low: float | None
    high: float | None


@dataclass(frozen=True)
class Range:
    """From `low` to `high`, both included."""

    low: float
    high: float

    @property
    def mid(self) -> float:
        """Half way between the ends."""
        return (self.low + self.high) / 2

    @property
    def half(self) -> float:
        """How far the ends lie from the middle: the ± of it."""
        return (self.high - self.low) / 2


@dataclass(frozen=True, kw_only=True)
class PartOfGap:
    """What one part does to the gap.

    `gives` is what it adds (or takes away, negative), `range` between what. `share` is its part
    of the worst case that is left, 0 to 1. `hold_to` is where the part itself has to end so that
    the gap stays as wanted whatever the others do within theirs; None where nothing is wanted,
    the part is measured, or no value of it would do.
    """

    part: Part
    gives: float
    range: Range
    share: float
    hold_to: Between | None

    @property
    def change(self) -> float:
        """How far it has to end from its nominal to hold to, as a part of that; 0 if it may."""
        hold, nominal = self.hold_to or Between(None, None), self.part.nominal
        short = 0.0 if hold.low is None else max(0.0, hold.low - nominal)
        long = 0.0 if hold.high is None else max(0.0, nominal - hold.high)
        return max(short, long) / (nominal or 1.0)


@dataclass(frozen=True, kw_only=True)
class StackFigure:
    """The gap: by the drawing (`nominal`), as it stands with what is measured (`expected`).

    `planned_*` are the ranges before anything was measured, `worst` and `rss` those now;
    `narrowed` is how much the ± of the worst case has shrunk. `eat_most` are the indices of the
    parts with the largest share (several only if alike), none where all is measured. `over` and
    `under` say how far the worst case leaves the wanted range.
    """

    stack: Stack
    parts: tuple[PartOfGap, ...]
    nominal: float
    expected: float
    planned_worst: Range
    planned_rss: Range
    worst: Range
    rss: Range
    narrowed: float
    eat_most: tuple[int, ...]
    over: float
    under: float
    keeping: Keeping
    rss_keeping: Keeping

    @property
    def missed(self) -> float:
        """How far the gap as it stands lies outside of what is wanted: over +, under -, in it 0."""
        over, under = _beyond(self.stack, Range(self.expected, self.expected))
        return over or -under

    @property
    def room(self) -> float:
        """What the worst case leaves to the nearer end of what is wanted; less than 0 outside.

        Infinite where nothing is wanted.
        """
        stack = self.stack
        to_most = math.inf if stack.most is None else stack.most - self.worst.high
        to_least = math.inf if stack.least is None else self.worst.low - stack.least
        return min(to_most, to_least)

    @property
    def strays(self) -> bool:
        """Whether it is to leave its range as it stands, or farther than was planned at worst."""
        over, under = _beyond(self.stack, self.planned_worst)
        return bool(self.missed or self.over > over + _HAIR or self.under > under + _HAIR)

    @property
    def bring_back(self) -> tuple[PartOfGap, ...]:
        """The parts of which some length would still do, whatever the others do within theirs."""
        return tuple(
            one
            for one in self.parts
            if one.hold_to is not None and (one.hold_to.high is None or one.hold_to.high > 0)
        )


def worst_case(parts: Iterable[tuple[float, float]]) -> float:
    """`Σ|a|T` over pairs of sensitivity and tolerance: the ± of the gap with all at their worst.

    Raises `BadFigure` for a tolerance below 0.

    >>> round(worst_case([(1, 0.005), (-1, 0.005), (-1, 0.003), (-1, 0.002)]), 6)
    0.015
    """
    return math.fsum(_eaten(parts))


def root_sum_square(parts: Iterable[tuple[float, float]]) -> float:
    """`√Σ(aT)²` over pairs of sensitivity and tolerance: the ± of the gap if parts vary by chance.

    Raises `BadFigure` for a tolerance below 0.

    >>> round(root_sum_square([(1, 0.005), (-1, 0.005), (-1, 0.003), (-1, 0.002)]), 5)
    0.00794
    """
    return math.hypot(*_eaten(parts))


def stacked(stack: Stack) -> StackFigure:
    """The gap that a stack leaves.

    Uneven tolerances are taken from their middle, as the root sum square needs it. A measured
    value counts as exact. Raises `BadFigure` for a stack without parts, a tolerance below 0, a
    part that changes nothing, a number that is none, and a wanted range the wrong way round; a
    part's fields are named with its number from 1, as in `minus-2`.
    """
    _check(stack)
    planned_worst, planned_rss = _ranges(stack.parts, as_planned=True)
    worst, rss = _ranges(stack.parts)
    over, under = _beyond(stack, worst)
    parts = tuple(_of_gap(part, stack, worst) for part in stack.parts)
    largest = max(part.range.half for part in parts)
    return StackFigure(
        stack=stack,
        parts=parts,
        nominal=math.fsum(part.sensitivity * part.nominal for part in stack.parts),
        expected=math.fsum(part.sensitivity * part.value for part in stack.parts),
        planned_worst=planned_worst,
        planned_rss=planned_rss,
        worst=worst,
        rss=rss,
        narrowed=planned_worst.half - worst.half,
        eat_most=tuple(
            index
            for index, part in enumerate(parts)
            if largest > _HAIR and part.range.half > largest - _HAIR
        ),
        over=over,
        under=under,
        keeping=_keeping(stack, worst),
        rss_keeping=_keeping(stack, rss),
    )


def _eaten(parts: Iterable[tuple[float, float]]) -> list[float]:
    pairs = list(parts)
    for _, tolerance in pairs:
        if not tolerance >= 0:
            raise BadFigure("stack.negative", value=tolerance)
    return [abs(sensitivity) * tolerance for sensitivity, tolerance in pairs]


def _check(stack: Stack) -> None:
    if not stack.parts:
        raise BadFigure("stack.no_parts", field="nominal-1")
    for no, part in enumerate(stack.parts, 1):
        for name in ("nominal", "plus", "minus", "sensitivity", "measured"):
            value = getattr(part, name)
            if value is not None and not math.isfinite(value):
                raise BadFigure("stack.no_number", field=f"{name}-{no}")
        for name in ("plus", "minus"):
            if getattr(part, name) < 0:
                raise BadFigure("stack.negative", field=f"{name}-{no}", value=getattr(part, name))
        if not part.sensitivity:
            raise BadFigure("stack.changes_nothing", field=f"sensitivity-{no}")
    if stack.least is not None and stack.most is not None and stack.least > stack.most:
        raise BadFigure("stack.reversed", field="least")


def _given(part: Part, as_planned: bool = False) -> Range:
    """What a part gives to the gap, from its least to its most."""
    if part.measured is not None and not as_planned:
        ends = (part.sensitivity * part.measured,) * 2
    else:
        ends = (
            part.sensitivity * (part.nominal - part.minus),
            part.sensitivity * (part.nominal + part.plus),
        )
    return Range(min(ends), max(ends))


def _ranges(parts: Sequence[Part], as_planned: bool = False) -> tuple[Range, Range]:
    """The worst case and the root sum square."""
    given = [_given(part, as_planned) for part in parts]
    mid = math.fsum(one.mid for one in given)
    halves = [(1.0, max(0.0, one.half)) for one in given]
    worst, rss = worst_case(halves), root_sum_square(halves)
    return Range(mid - worst, mid + worst), Range(mid - rss, mid + rss)


def _of_gap(part: Part, stack: Stack, worst: Range) -> PartOfGap:
    own = _given(part)
    return PartOfGap(
        part=part,
        gives=part.sensitivity * part.value,
        range=own,
        share=own.half / worst.half if worst.half > _HAIR else 0.0,
        hold_to=_hold_to(part, own, stack, worst) if part.measured is None else None,
    )


def _hold_to(part: Part, own: Range, stack: Stack, worst: Range) -> Between | None:
    if stack.least is None and stack.most is None:
        return None
    low = None if stack.least is None else (stack.least - worst.low + own.low) / part.sensitivity
    high = None if stack.most is None else (stack.most - worst.high + own.high) / part.sensitivity
    if part.sensitivity < 0:
        low, high = high, low
    if low is not None and high is not None and low > high + _HAIR:
        return None
    return Between(low, high)


def _keeping(stack: Stack, predicted: Range) -> Keeping:
    if stack.least is None and stack.most is None:
        return Keeping.UNASKED
    return Keeping.OUT if any(_beyond(stack, predicted)) else Keeping.KEPT


def _beyond(stack: Stack, predicted: Range) -> tuple[float, float]:
    """How far what is predicted lies over the most wanted, and under the least."""
    over = 0.0 if stack.most is None else predicted.high - stack.most
    under = 0.0 if stack.least is None else stack.least - predicted.low
    return (over if over > _HAIR else 0.0, under if under > _HAIR else 0.0)
