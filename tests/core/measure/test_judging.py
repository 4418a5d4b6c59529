"""Readings against tolerances, with the limits included."""

from fractions import Fraction

import pytest

from server.core.measure import Band, State, check_bands, judge, sixteenths
from server.core.refusals import Refusal, message

HEIGHT = Fraction(36)
EIGHTH = Band.around(HEIGHT, Fraction(1, 8))
QUARTER = Band.around(HEIGHT, Fraction(1, 4))


@pytest.mark.parametrize("value", ["35.875", "36", "36.0625", "36.125"])
def test_a_reading_up_to_the_limit_is_within(value: str) -> None:
    verdict = judge(Fraction(value), HEIGHT, EIGHTH, QUARTER)
    assert verdict.state is State.WITHIN
    assert verdict.off == 0


def test_a_sixteenth_beyond_the_first_band_is_a_sixteenth_high_and_to_be_put_right() -> None:
    verdict = judge(Fraction("36.1875"), HEIGHT, EIGHTH, QUARTER)
    assert verdict.state is State.PUT_RIGHT
    assert verdict.off == Fraction(1, 16)
    assert verdict.from_nominal == Fraction(3, 16)
    assert verdict.message("in") == message("measure.high", off=Fraction(1, 16))


def test_a_reading_below_the_first_band_is_low() -> None:
    verdict = judge(Fraction("35.75"), HEIGHT, EIGHTH, QUARTER)
    assert verdict.state is State.PUT_RIGHT
    assert verdict.off == Fraction(-1, 8)
    assert verdict.message("in") == message("measure.low", off=Fraction(1, 8))


def test_the_outer_limit_of_the_second_band_can_still_be_put_right() -> None:
    assert judge(Fraction("36.25"), HEIGHT, EIGHTH, QUARTER).state is State.PUT_RIGHT


def test_a_hair_beyond_the_second_band_has_to_be_asked() -> None:
    over = Fraction("36.25") + Fraction(1, 10**9)
    assert judge(over, HEIGHT, EIGHTH, QUARTER).state is State.ASK


def test_outside_the_only_band_has_to_be_asked() -> None:
    assert judge(Fraction("36.1875"), HEIGHT, EIGHTH).state is State.ASK


def test_at_least_has_no_upper_limit() -> None:
    at_least = Band(Fraction(3, 2), None)
    assert judge(Fraction(400), None, at_least).state is State.WITHIN
    assert judge(Fraction(3, 2), None, at_least).state is State.WITHIN
    assert judge(Fraction(23, 16), None, at_least).off == Fraction(-1, 16)


def test_at_most_has_no_lower_limit() -> None:
    at_most = Band(None, Fraction(9, 2))
    assert judge(Fraction(-1), None, at_most).state is State.WITHIN
    assert judge(Fraction(5), None, at_most).off == Fraction(1, 2)


def test_a_reading_without_a_nominal_is_not_measured_from_one() -> None:
    assert judge(Fraction(1), None, Band(None, Fraction(2))).from_nominal is None


def test_units_other_than_inches_are_named_in_the_verdict() -> None:
    verdict = judge(Fraction(14), None, Band(None, Fraction(12)))
    assert verdict.message("%") == message("measure.high_in_unit", off=Fraction(2), unit="%")


def test_a_band_may_be_wider_on_one_side() -> None:
    flush = Band.around(Fraction(0), Fraction(1, 16), Fraction(0))
    assert flush == Band(Fraction(-1, 16), Fraction(0))


@pytest.mark.parametrize(
    ("low", "high", "why"),
    [
        (None, None, "measure.no_limits"),
        (Fraction(2), Fraction(1), "measure.limits_reversed"),
    ],
)
def test_a_band_that_makes_no_sense_is_refused(
    low: Fraction | None, high: Fraction | None, why: str
) -> None:
    with pytest.raises(Refusal) as refused:
        Band(low, high)
    assert refused.value.id == why


@pytest.mark.parametrize("far", [EIGHTH, QUARTER, Band(Fraction(30), None), None])
def test_a_second_band_that_holds_the_first_is_taken(far: Band | None) -> None:
    check_bands(EIGHTH, far)


@pytest.mark.parametrize("far", [Band(Fraction(36), None), Band(None, Fraction(36))])
def test_a_second_band_that_cuts_into_the_first_is_refused(far: Band) -> None:
    with pytest.raises(Refusal) as refused:
        check_bands(EIGHTH, far, "far_low")
    assert refused.value.id == "measure.bands_cross"
    assert refused.value.field == "far_low"


def test_a_second_band_with_an_end_does_not_hold_a_first_without() -> None:
    with pytest.raises(Refusal):
        check_bands(Band(Fraction(1), None), Band(Fraction(0), Fraction(9)))


@pytest.mark.parametrize(
    ("value", "parts"),
    [
        ("36.1875", (36, 3, 16)),
        ("36.5", (36, 1, 2)),
        ("36", (36, 0, 1)),
        ("-1.25", (-1, -1, 4)),
        ("0", (0, 0, 1)),
        ("36.03125", None),
        ("36.06", None),
    ],
)
def test_sixteenths_are_exact_or_nothing(value: str, parts: tuple[int, int, int] | None) -> None:
    assert sixteenths(Fraction(value)) == parts
