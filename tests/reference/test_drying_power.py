"""The drying power of air against PsychroLib, an independent work on the ASHRAE formulas.

PsychroLib 2.5.0 (MIT licence) follows the ASHRAE Handbook of Fundamentals, 2017, chapter 1.
"""

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.figures.air import GOOD, Air, deficit, drying_power, saturation

psychrolib.SetUnitSystem(psychrolib.IP)


@pytest.mark.parametrize("fahrenheit", [0, 15, 31.9, 32, 32.1, 33, 40, 50, 60, 70, 80, 100, 130])
def test_air_is_full_of_vapour_at_the_pressure_that_psychrolib_gives(fahrenheit: float) -> None:
    assert saturation(fahrenheit) == pytest.approx(psychrolib.GetSatVapPres(fahrenheit), rel=1e-9)


@given(st.floats(0, 130), st.floats(0, 100))
def test_what_air_lacks_is_the_deficit_that_psychrolib_gives(
    fahrenheit: float, humidity: float
) -> None:
    ratio = psychrolib.GetHumRatioFromRelHum(fahrenheit, humidity / 100, 14.696)
    theirs = psychrolib.GetVaporPressureDeficit(fahrenheit, ratio, 14.696)
    # PsychroLib has no air without any vapour: 0.0000024 psi is its least.
    assert deficit(Air(fahrenheit, humidity)) == pytest.approx(theirs, rel=1e-5, abs=3e-6)


def test_air_of_70_f_and_50_percent_is_what_others_are_held_against() -> None:
    assert (drying_power(Air(70, 50)), Air(70, 50)) == (1.0, GOOD)


@given(st.floats(33, 120), st.floats(0, 99), st.floats(0.1, 10))
def test_warmer_or_drier_air_dries_better(fahrenheit: float, humidity: float, by: float) -> None:
    here = drying_power(Air(fahrenheit, humidity))
    assert drying_power(Air(fahrenheit + by, humidity)) > here
    assert drying_power(Air(fahrenheit, max(humidity - by, 0))) >= here


def test_full_air_takes_nothing_up() -> None:
    assert drying_power(Air(70, 100)) == 0
