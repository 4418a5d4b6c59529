"""The limits that a wall rail is held against: those of a profile, and two of brackets."""

import math

from server.core.figures.base import Judged, Profile
from server.core.figures.lengths import in_unit, judged_length

# Brackets of a wall rail in a Canadian guidance, restated by a second source (tag "S").
BRACKETS_APART_MM = 1200.0
BRACKET_FROM_END_MM = 300.0
GUIDANCE = "a Canadian guidance on brackets"


def held_against(
    profile: Profile | None,
    *,
    height: float,
    clearance: float,
    deep: float,
    wide: float,
    is_round: bool,
    spacing: float,
    end: float,
) -> tuple[Judged, ...]:
    """Each number with the limit it was held against; nothing where the profile has none.

    A rail that is not round is taken with square corners: around and across the most it can be.
    """
    found = [
        _judged(profile, "handrail_height", height),
        _judged(profile, "handrail_clearance", clearance),
        _judged(profile, "handrail_projection", clearance + wide),
        _judged(profile, "rail_diameter", wide) if is_round else None,
        None if is_round else _judged(profile, "rail_perimeter", 2 * (deep + wide)),
        None if is_round else _judged(profile, "rail_across", math.hypot(deep, wide)),
        _bracket("bracket_spacing", spacing, BRACKETS_APART_MM),
        _bracket("bracket_end", end, BRACKET_FROM_END_MM),
    ]
    return tuple(one for one in found if one is not None)


def _judged(profile: Profile | None, name: str, inches: float) -> Judged | None:
    return judged_length(profile, name, inches) if profile else None


def _bracket(what: str, inches: float, most_mm: float) -> Judged:
    return Judged(
        what=what, value=in_unit(inches, "mm"), unit="mm", most=most_mm, source=GUIDANCE, tag="S"
    )
