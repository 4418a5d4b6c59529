"""Lengths in inches held against limits that may be written in millimeters."""

import math
from fractions import Fraction

from server.core.figures.base import BadFigure, Judged, Profile, judged

MM_PER_INCH = 25.4
MOST_INCHES = 12_000.0
"""A thousand feet: nothing on a stair is longer."""
_HAIR = 1e-6


def in_unit(inches: float, unit: str) -> float:
    """A length in inches, in "in" or "mm"."""
    return inches * MM_PER_INCH if unit == "mm" else inches


def fine(inches: float, unit: str) -> Fraction:
    """A small length as a tape reads it to 1/64 in, else to a thousandth, in "in" or "mm".

    In millimeters to a tenth, below one to a hundredth. What is not 0 does not come out as 0.

    >>> fine(0.250001, "in"), fine(0.0079, "in"), fine(0.005, "mm")
    (Fraction(1, 4), Fraction(1, 125), Fraction(13, 100))
    """
    exact = Fraction(inches) * (Fraction("25.4") if unit == "mm" else 1)
    if unit == "mm":
        places = 10 if abs(exact) >= 1 else 100
        return Fraction(round(exact * places), places)
    value = Fraction(round(exact * 64), 64)
    if abs(exact - value) >= Fraction(1, 2000):
        value = Fraction(round(exact * 1000), 1000)
    if value == 0 and abs(exact) > _HAIR:
        value = Fraction(round(exact * 10**5), 10**5)
    return value


def judged_length(profile: Profile, name: str, inches: float, what: str = "") -> Judged | None:
    """A length in inches against a limit of a profile, in the limit's own unit; see `judged`."""
    limit = profile.limits.get(name)
    return judged(profile, name, in_unit(inches, limit.unit), what) if limit else None


def least_of(profile: Profile, name: str) -> float | None:
    """The least of a limit in inches, or None where the profile has none."""
    limit = profile.limits.get(name)
    if limit is None or limit.least is None:
        return None
    return limit.least / (MM_PER_INCH if limit.unit == "mm" else 1)


def length(value: float, field: str, *, zero: bool = False) -> float:
    """A length above zero (or from zero), no longer than anything on a stair; else `BadFigure`."""
    if not math.isfinite(value) or value > MOST_INCHES:
        raise BadFigure("figures.too_long", field=field)
    if value < 0 or (value == 0 and not zero):
        raise BadFigure("figures.below_zero" if zero else "figures.over_zero", field=field)
    return value
