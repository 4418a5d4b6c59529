"""Lengths in inches held against limits that may be written in millimeters."""

import math

from server.core.figures.base import BadFigure, Judged, Profile, judged

MM_PER_INCH = 25.4
MOST_INCHES = 12_000.0
"""A thousand feet: nothing on a stair is longer."""


def in_unit(inches: float, unit: str) -> float:
    """A length in inches, in "in" or "mm"."""
    return inches * MM_PER_INCH if unit == "mm" else inches


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
