"""Measurements against published conversions, and against what the words print.

Conversions: NIST Special Publication 811 (2008), appendix B: 1 in = 25.4 mm and 1 ft = 0.3048 m,
both exact; temperature in degrees Celsius = (degrees Fahrenheit - 32) / 1.8.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.measure import read
from server.words import words


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("1 in", "mm", "25.4"),
        ("1 ft", "m", "0.3048"),
        ("1/16 in", "mm", "1.5875"),
        ("304.8 mm", "ft", "1"),
        ("-40 °C", "°F", "-40"),
        ("212 °F", "°C", "100"),
    ],
)
def test_published_conversions_are_exact(typed: str, unit: str, value: str) -> None:
    assert read(typed, unit) == Fraction(value)


@given(st.integers(-64 * 400, 64 * 400))
def test_every_length_on_a_tape_is_read_back_as_it_is_printed(sixty_fourths: int) -> None:
    length = Fraction(sixty_fourths, 64)
    assert read(words("en").length(length, "in"), "in") == length


@given(st.integers(0, 400), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_are_twelve_times_the_feet_and_the_inches(
    feet: int, inches: int, sixteenths: int
) -> None:
    typed = f"{feet}'-{inches} {sixteenths}/16\""
    assert read(typed, "in") == feet * 12 + inches + Fraction(sixteenths, 16)
