"""The numbers that air and drying are held against, each with where it comes from.

Where it says so they are written down from memory of the source named, or are common practice. A
project's specification and the maker's data sheet go before all of them.
"""

from datetime import timedelta
from fractions import Fraction

import pytest

from server.core import climate
from server.core.measure import Band
from server.core.wanted_air import (
    ANY,
    COLD,
    DRIES_SMALL,
    WANTED,
    WIDE_WOOD,
    WOOD_AIR,
    WOOD_APART,
    WOOD_APART_NARROW,
    WOOD_HUMIDITY,
    Wanted,
    wanted_by,
    wood_settles_at,
)


def band(low: int | None, high: int | None) -> Band:
    return Band(None if low is None else Fraction(low), None if high is None else Fraction(high))


def test_gypsum_plaster_wants_50_to_80_f_while_it_is_wet() -> None:
    """UFGS, section of gypsum veneer plaster, "environmental conditions"."""
    assert WANTED["gypsum"] == Wanted(band(50, 80))


def test_board_and_compound_want_50_f_for_48_hours_before() -> None:
    """GA-216, from memory."""
    assert WANTED["compound"] == Wanted(band(50, None), ahead=timedelta(hours=48))


def test_cement_plaster_waits_48_hours_between_coats_and_is_kept_7_days_after() -> None:
    """ASTM C926, from memory."""
    cement = WANTED["cement"]
    assert (cement.between, cement.after) == (timedelta(hours=48), timedelta(days=7))


@pytest.mark.parametrize("stuff", ["lime", "cement"])
def test_lime_and_cement_want_damp_and_moderate_warmth(stuff: str) -> None:
    """50 to 90 °F, humidity not under 40 %: common practice."""
    assert (WANTED[stuff].air, WANTED[stuff].humidity) == (band(50, 90), band(40, None))


@pytest.mark.parametrize("stuff", ["", "adhesive", "grout", "something else"])
def test_any_other_wet_work_wants_50_f(stuff: str) -> None:
    """Common practice."""
    assert wanted_by(stuff) is ANY
    assert Wanted(band(50, None)) == ANY
    assert COLD == 50


def test_adhesive_and_grout_give_off_too_little_water_to_keep_wood_out() -> None:
    """Common practice."""
    assert {"adhesive", "grout"} == DRIES_SMALL


def test_finish_wood_wants_60_to_80_f_and_30_to_50_percent_humidity() -> None:
    """NWFA Installation Guidelines, restated by its magazine in June 2017."""
    assert (band(60, 80), band(30, 50)) == (WOOD_AIR, WOOD_HUMIDITY)


def test_wood_of_3_in_is_within_2_points_of_what_carries_it_and_narrower_within_4() -> None:
    """NWFA, restated by makers of flooring: 4 points below 3 in."""
    assert (WOOD_APART, WOOD_APART_NARROW, WIDE_WOOD) == (2, 4, 3)


def test_what_moves_more_than_half_a_point_in_two_days_has_not_settled() -> None:
    """Common practice."""
    assert (Fraction(1, 2), timedelta(days=2)) == (climate.STILL, climate.APART)


def test_air_is_judged_for_wood_over_a_week() -> None:
    """Common practice."""
    assert climate.WEEK == 7


@pytest.mark.parametrize(
    ("air", "humidity", "wood"),
    [
        (30, 50, "9.5"),
        (50, 60, "11.2"),
        (60, 50, "9.4"),
        (70, 30, "6.2"),
        (70, 40, "7.7"),
        (70, 50, "9.2"),
        (70, 65, "12.0"),
        (70, 80, "16.0"),
        (80, 50, "9.1"),
    ],
)
def test_wood_comes_to_rest_at_the_figures_of_the_wood_handbook(
    air: int, humidity: int, wood: str
) -> None:
    """USDA Wood Handbook, table of equilibrium moisture content, from memory."""
    assert wood_settles_at(Fraction(air), Fraction(humidity)) == Fraction(wood)
