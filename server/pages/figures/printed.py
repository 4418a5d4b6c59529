"""Figures as they are printed: lengths to 1/16 in or 1 mm, each with its exact value beside."""

import math
from dataclasses import dataclass
from fractions import Fraction

from server.core.measure.units import converted
from server.words import Words

TAPE = {"in": Fraction(1, 16), "mm": Fraction(1)}
EXACT = {"in": 3, "mm": 2}
ROUNDED = {"°": 1, "%": 1, "°F": 0, "°C": 1, "lb": 0, "count": 0}
SHOWN = {"mm": {"in": "mm", "°F": "°C"}, "in": {"mm": "in", "°C": "°F"}}
"""What a value in a unit is shown in, for somebody who reads inches or millimeters."""


@dataclass(frozen=True)
class Printed:
    """A value as it is read off, and the exact one where that is another ("" where it is not)."""

    said: str
    exact: str = ""


def printed(value: float, unit: str, units: str, words: Words) -> Printed:
    """A value that was worked out in `unit`, for somebody who reads `units` ("in" or "mm").

    >>> printed(7.7143, "in", "in", Words()), printed(7.5, "in", "mm", Words())
    (Printed(said='7 11/16 in', exact='7.714 in'), Printed(said='191 mm', exact='190.5 mm'))
    """
    shown = SHOWN[units].get(unit, unit)
    exact = converted(Fraction(value), unit, shown) if shown != unit else Fraction(value)
    assert exact is not None, (unit, shown)
    places = EXACT.get(shown, 2)
    near = Fraction(_whole(exact * 10**places), 10**places)
    if shown in TAPE:
        rounded = _whole(exact / TAPE[shown]) * TAPE[shown]
    else:
        scale = 10 ** ROUNDED.get(shown, 2)
        rounded = Fraction(_whole(exact * scale), scale)
    said = words.length(rounded, shown)
    # Decimals beside a fraction that is all of it would only say the same again.
    beside = "" if abs(exact - rounded) < Fraction(1, 2 * 10**places) else words.length(near, shown)
    return Printed(said, beside)


def drawn(value: float, unit: str, units: str, words: Words) -> str:
    """A value as it stands in a drawing: rounded, with its unit."""
    return printed(value, unit, units, words).said


def _whole(value: Fraction) -> int:
    """The nearest whole number, a half away from 0: as people round, not as computers do."""
    return math.floor(abs(value) + Fraction(1, 2)) * (-1 if value < 0 else 1)
