"""Stacks of tolerances: the gap, what narrows it, what eats it, whether it keeps its range."""

from dataclasses import replace
from fractions import Fraction

import pytest

from server.core.figures.base import BadFigure
from server.core.figures.stack import (
    Between,
    Keeping,
    Stack,
    root_sum_square,
    stacked,
    worst_case,
)
from server.core.figures.stack_asks import part_asked
from tests.core.figures.stacks import in_a_housing, measured, part


def refused(stack: Stack) -> tuple[str, str | None]:
    with pytest.raises(BadFigure) as why:
        stacked(stack)
    return why.value.id, why.value.field


def test_a_stack_without_a_wanted_range_is_not_judged() -> None:
    figure = stacked(in_a_housing())
    assert (figure.keeping, figure.rss_keeping) == (Keeping.UNASKED, Keeping.UNASKED)


def test_a_range_that_the_worst_case_just_fills_is_kept() -> None:
    assert stacked(in_a_housing(least=0.005, most=0.035)).keeping is Keeping.KEPT


@pytest.mark.parametrize(("least", "most"), [(0.0051, 0.035), (0.005, 0.0349), (None, 0.034)])
def test_a_range_that_the_worst_case_leaves_is_out_of_tolerance(
    least: float | None, most: float
) -> None:
    figure = stacked(in_a_housing(least=least, most=most))
    assert figure.keeping is Keeping.OUT
    assert figure.keeping == "out of tolerance"


def test_by_chance_a_range_may_be_kept_that_the_worst_case_leaves() -> None:
    figure = stacked(in_a_housing(least=0.01, most=0.03))
    assert (figure.keeping, figure.rss_keeping) == (Keeping.OUT, Keeping.KEPT)


def test_it_says_how_far_the_worst_case_leaves_the_range_on_each_side() -> None:
    figure = stacked(in_a_housing(least=0.004, most=0.03))
    assert (figure.under, figure.over) == (0.0, pytest.approx(0.005))


def test_a_measured_part_takes_its_tolerance_out_of_the_stack() -> None:
    figure = stacked(measured(in_a_housing(), 0, 4.022))
    assert figure.expected == pytest.approx(0.022)
    assert figure.nominal == pytest.approx(0.020)
    assert figure.worst.half == pytest.approx(0.010)
    assert figure.narrowed == pytest.approx(0.005)


def test_what_was_planned_stays_beside_what_is_measured() -> None:
    figure = stacked(measured(in_a_housing(), 0, 4.022))
    assert figure.planned_worst.half == pytest.approx(0.015)
    assert figure.planned_rss.half == pytest.approx(0.00794, abs=5e-6)


def test_the_part_with_the_largest_share_eats_most() -> None:
    figure = stacked(measured(in_a_housing(), 0, 4.02))
    assert figure.eat_most == (1,)
    assert [round(one.share, 3) for one in figure.parts] == [0, 0.5, 0.3, 0.2]


def test_a_part_counts_as_often_as_its_sensitivity_says() -> None:
    figure = stacked(Stack(parts=(part(10, 0.1, 0.5), part(2, 0.04, -2))))
    assert figure.nominal == pytest.approx(1)
    assert figure.eat_most == (1,)


def test_parts_with_the_same_share_eat_most_together() -> None:
    assert stacked(in_a_housing()).eat_most == (0, 1)


def test_nothing_eats_most_where_all_is_measured() -> None:
    stack = Stack(parts=(part(10, 0.1, measured=10.2), part(9, 0.1, -1, measured=9)))
    figure = stacked(stack)
    assert figure.eat_most == ()
    assert figure.worst.half == 0
    assert [one.share for one in figure.parts] == [0, 0]


def test_a_measured_value_beyond_its_tolerance_is_said_with_its_sign() -> None:
    over, under, within = (part(10, 0.1, measured=value) for value in (10.3, 9.7, 10.1))
    assert over.strayed == pytest.approx(0.2)
    assert under.strayed == pytest.approx(-0.2)
    assert within.strayed == 0


def test_uneven_tolerances_move_the_middle_and_not_the_nominal() -> None:
    figure = stacked(Stack(parts=(part(10, 0, plus=0.3, minus=0.1), part(9, 0, -1, plus=0.2))))
    assert figure.nominal == pytest.approx(1)
    assert (figure.worst.low, figure.worst.high) == (pytest.approx(0.7), pytest.approx(1.3))
    assert figure.rss.mid == pytest.approx(1.0)


def test_a_part_has_to_hold_to_what_the_others_leave_of_the_range() -> None:
    stack = Stack(parts=(part(10, 0.5), part(9, 0.1, -1)), least=0.75, most=1.5)
    wall, tread = stacked(stack).parts
    assert wall.hold_to == Between(pytest.approx(9.85), pytest.approx(10.4))  # type: ignore[arg-type]
    assert tread.hold_to is None


def test_a_part_that_takes_away_has_its_ends_the_other_way_round() -> None:
    stack = Stack(parts=(part(10, 0.1), part(9, 0.1, -1)), least=0.75)
    hold = stacked(stack).parts[1].hold_to
    assert hold == Between(None, pytest.approx(9.15))  # type: ignore[arg-type]


def test_held_to_that_the_worst_case_just_fills_the_range() -> None:
    stack = Stack(parts=(part(10, 0.5), part(9, 0.1, -1)), least=0.75, most=1.5)
    hold = stacked(stack).parts[0].hold_to
    assert hold is not None
    assert hold.low is not None
    assert hold.high is not None
    middle, half = (hold.low + hold.high) / 2, (hold.high - hold.low) / 2
    kept = replace(stack, parts=(part(middle, half), stack.parts[1]))
    assert stacked(kept).keeping is Keeping.KEPT
    wider = replace(stack, parts=(part(middle, half + 0.001), stack.parts[1]))
    assert stacked(wider).keeping is Keeping.OUT


def test_a_check_asks_for_a_part_with_its_tolerance() -> None:
    ask = part_asked(stacked(in_a_housing()).parts[1], label="Thickness", no=3)
    assert (ask.label, ask.part, ask.unit) == ("Thickness", 3, "in")
    assert (ask.nominal, ask.low, ask.high) == (2, Fraction("1.995"), Fraction("2.005"))
    assert part_asked(stacked(in_a_housing()).parts[1]).label == "block"


def test_a_check_of_how_far_it_is_off_asks_around_nothing() -> None:
    stack = Stack(parts=(part(10, 0.125), part(9, 0.125, -1)), least=0.5, most=1.5)
    ask = part_asked(stacked(stack).parts[0], off=True)
    assert (ask.nominal, ask.low, ask.high) == (0, Fraction("-0.125"), Fraction("0.125"))
    assert (ask.far_low, ask.far_high) == (Fraction("-0.375"), Fraction("0.375"))


def test_in_millimeters_the_ask_is_as_long() -> None:
    ask = part_asked(stacked(in_a_housing()).parts[1], unit="mm")
    assert (ask.unit, ask.nominal, ask.low) == ("mm", Fraction("50.8"), Fraction("50.67"))


def test_the_far_limits_of_an_ask_are_what_keeps_the_gap() -> None:
    stack = Stack(parts=(part(10, 0.125), part(9, 0.125, -1)), least=0.5, most=1.5)
    ask = part_asked(stacked(stack).parts[0])
    assert (ask.low, ask.high) == (Fraction("9.875"), Fraction("10.125"))
    assert (ask.far_low, ask.far_high) == (Fraction("9.625"), Fraction("10.375"))


def test_far_limits_narrower_than_the_tolerance_are_left_out() -> None:
    stack = Stack(parts=(part(10, 0.5), part(9, 0.1, -1)), least=0.9, most=1.1)
    ask = part_asked(stacked(stack).parts[0])
    assert (ask.far_low, ask.far_high) == (None, None)


WANTED = Stack(parts=(part(10, 0.125), part(9, 0.125, -1)), least=0.75, most=1.25)


def test_a_gap_that_is_as_planned_does_not_stray() -> None:
    assert not stacked(WANTED).strays
    assert not stacked(measured(WANTED, 0, 10.125)).strays


def test_a_part_beyond_its_tolerance_makes_the_gap_stray_and_the_other_can_bring_it_back() -> None:
    figure = stacked(measured(WANTED, 0, 10.1875))
    assert (figure.strays, figure.missed, figure.over) == (True, 0, 0.0625)
    (back,) = figure.bring_back
    assert back.part is WANTED.parts[1]
    assert back.hold_to == Between(8.9375, 9.4375)


def test_what_is_out_by_its_drawing_alone_does_not_stray_until_it_gets_worse() -> None:
    tight = replace(WANTED, least=0.9, most=1.1)
    assert stacked(tight).keeping is Keeping.OUT
    assert not stacked(tight).strays
    assert not stacked(measured(tight, 0, 10.05)).strays
    assert stacked(measured(tight, 0, 10.125)).missed == pytest.approx(0.025)
    assert stacked(measured(tight, 0, 9.875)).missed == pytest.approx(-0.025)


def test_where_all_is_measured_nothing_brings_it_back() -> None:
    figure = stacked(measured(measured(WANTED, 0, 10.25), 1, 8.9))
    assert (figure.strays, figure.bring_back) == (True, ())


def test_a_part_that_would_have_to_be_less_than_nothing_brings_nothing_back() -> None:
    wall = Stack(parts=(part(10, 0.5), part(9.75, 0.1, -1), part(0.25, 0.05, -1)), least=2, most=4)
    assert [one.part.nominal for one in stacked(wall).bring_back] == [10, 9.75]


def test_a_stack_without_parts_is_refused() -> None:
    assert refused(Stack(parts=())) == ("stack.no_parts", "nominal-1")


def test_a_tolerance_below_nothing_is_refused_at_its_field() -> None:
    stack = Stack(parts=(part(1, 0.1), part(1, 0.1, minus=-0.1)))
    assert refused(stack) == ("stack.negative", "minus-2")


def test_a_part_that_changes_nothing_is_refused() -> None:
    assert refused(Stack(parts=(part(1, 0.1, 0),))) == (
        "stack.changes_nothing",
        "sensitivity-1",
    )


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_number_is_refused(value: float) -> None:
    assert refused(Stack(parts=(part(value, 0.1),))) == ("stack.no_number", "nominal-1")


def test_a_least_above_the_most_is_refused() -> None:
    assert refused(in_a_housing(least=2, most=1)) == ("stack.reversed", "least")


@pytest.mark.parametrize("of", [worst_case, root_sum_square])
def test_pairs_with_a_tolerance_below_nothing_are_refused(of: object) -> None:
    with pytest.raises(BadFigure):
        of([(1, 0.1), (1, -0.1)])  # type: ignore[operator]


@pytest.mark.parametrize("of", [worst_case, root_sum_square])
def test_no_pairs_leave_nothing(of: object) -> None:
    assert of([]) == 0  # type: ignore[operator]
