"""Stacks of tolerances against a published example, every corner tried, and what must hold."""

import math
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.core.figures.stack import (
    Keeping,
    Part,
    Stack,
    StackFigure,
    root_sum_square,
    stacked,
    worst_case,
)
from tests.core.figures.stacks import in_a_housing

every_time_the_same = settings(derandomize=True, max_examples=200, deadline=None, database=None)
HAIR = 1e-6


def test_three_parts_in_a_housing() -> None:
    """2.000 ±0.005, 1.500 ±0.003 and 0.500 ±0.002 in 4.020 ±0.005: the textbook example of
    one-dimensional stacks, gap 0.020, worst case ±0.015, root sum square ±0.00794 (read in its
    source's own text)."""
    figure = stacked(in_a_housing())
    assert figure.nominal == pytest.approx(0.020)
    assert figure.worst.half == pytest.approx(0.015)
    assert figure.rss.half == pytest.approx(0.00794, abs=5e-6)


def test_the_same_from_pairs_of_sensitivity_and_tolerance() -> None:
    pairs = [(1, 0.005), (-1, 0.005), (-1, 0.003), (-1, 0.002)]
    assert worst_case(pairs) == pytest.approx(0.015)
    assert root_sum_square(pairs) == pytest.approx(math.sqrt(63e-6))


lengths = st.floats(-100, 100, allow_nan=False)
tolerances = st.floats(0, 2, allow_nan=False)


@st.composite
def parts(draw: st.DrawFn) -> Part:
    """A part with uneven tolerances that adds, takes away, or counts by half."""
    return Part(
        name="part",
        nominal=draw(lengths),
        plus=draw(tolerances),
        minus=draw(tolerances),
        sensitivity=draw(st.sampled_from([1.0, -1.0, 0.5, -0.5, 0.8])),
    )


stacks = st.builds(
    lambda found: Stack(parts=tuple(found)), st.lists(parts(), min_size=1, max_size=6)
)


def corners(stack: Stack) -> list[float]:
    """The gap with each part at one end of its tolerance, in every combination."""
    ends = [(part.nominal - part.minus, part.nominal + part.plus) for part in stack.parts]
    return [
        sum(part.sensitivity * end for part, end in zip(stack.parts, corner, strict=True))
        for corner in product(*ends)
    ]


@every_time_the_same
@given(stacks)
def test_the_worst_case_is_the_worst_of_all_corners(stack: Stack) -> None:
    figure, found = stacked(stack), corners(stack)
    assert figure.worst.low == pytest.approx(min(found), abs=HAIR)
    assert figure.worst.high == pytest.approx(max(found), abs=HAIR)


@every_time_the_same
@given(stacks)
def test_the_worst_case_is_never_below_the_root_sum_square(stack: Stack) -> None:
    figure = stacked(stack)
    assert figure.worst.half >= figure.rss.half - HAIR
    assert figure.worst.low <= figure.rss.low + HAIR
    assert figure.worst.high >= figure.rss.high - HAIR


@every_time_the_same
@given(st.lists(st.tuples(st.floats(-3, 3), st.floats(0, 5)), max_size=8))
def test_of_pairs_too_the_worst_case_is_never_below(pairs: list[tuple[float, float]]) -> None:
    assert worst_case(pairs) >= root_sum_square(pairs) - HAIR


def halves(figure: StackFigure) -> tuple[float, float]:
    return figure.worst.half, figure.rss.half


@every_time_the_same
@given(stacks, st.data())
def test_a_measured_value_never_widens(stack: Stack, data: st.DataObject) -> None:
    index = data.draw(st.integers(0, len(stack.parts) - 1))
    known = replace(stack.parts[index], measured=data.draw(lengths))
    then = replace(stack, parts=(*stack.parts[:index], known, *stack.parts[index + 1 :]))
    before, after = halves(stacked(stack)), halves(stacked(then))
    assert after[0] <= before[0] + HAIR
    assert after[1] <= before[1] + HAIR
    assert stacked(then).narrowed >= -HAIR


@every_time_the_same
@given(stacks, st.data())
def test_a_value_measured_within_its_tolerance_stays_in_what_was_predicted(
    stack: Stack, data: st.DataObject
) -> None:
    index = data.draw(st.integers(0, len(stack.parts) - 1))
    part = stack.parts[index]
    value = data.draw(st.floats(part.nominal - part.minus, part.nominal + part.plus))
    known = replace(part, measured=value)
    then = stacked(replace(stack, parts=(*stack.parts[:index], known, *stack.parts[index + 1 :])))
    assert then.planned_worst.low - HAIR <= then.worst.low
    assert then.worst.high <= then.planned_worst.high + HAIR


@every_time_the_same
@given(stacks)
def test_shares_are_of_one_whole(stack: Stack) -> None:
    figure = stacked(stack)
    shares = math.fsum(one.share for one in figure.parts)
    assert shares == pytest.approx(1 if figure.worst.half > HAIR else 0, abs=1e-3)


@every_time_the_same
@given(stacks, st.floats(0, 3), st.floats(0, 3))
def test_it_is_kept_just_where_no_corner_leaves_the_range(
    stack: Stack, under: float, over: float
) -> None:
    found = corners(stack)
    middle = (min(found) + max(found)) / 2
    wanted = replace(stack, least=middle - under, most=middle + over)
    leaves = max(middle - under - min(found), max(found) - middle - over)
    if abs(leaves) > HAIR:
        kept = stacked(wanted).keeping is Keeping.KEPT
        assert kept is (leaves < 0)
