"""What a check of stand-offs asks of each: its height, and that all lie on one string.

What people see along a wall is whether the stand-offs are straight, not how high they are: the
string from the first to the last is held close, the height only within what its limits allow.
"""

import math
from collections.abc import Callable
from fractions import Fraction

from server.core.changes.plan import AskFacts
from server.core.figures.base import Judged
from server.core.figures.lengths import MM_PER_INCH, in_unit
from server.core.figures.standoffs import StandOff, StandOffFigure

_GRAIN = {"in": Fraction(1, 16), "mm": Fraction(1)}


def asks(
    figure: StandOffFigure, *, height: str, string: str, unit: str = "in"
) -> tuple[AskFacts, ...]:
    """The asks of a check, in inches or mm; `height` and `string` are their labels, in words.

    Height is that of the rod's middle above the finished tread under it, to 1/16 in or 1 mm: near
    limits are the figure's tolerance inside the limits of the rail height, far ones those limits
    themselves. A string stretched from the first to the last judges those between.
    """
    if unit not in _GRAIN:
        raise ValueError(f"no unit of a tape: {unit!r}")
    between = figure.stand_offs[1:-1]
    within = _rounded(figure.rail.string_within, unit, round)
    return tuple(_height(figure, one, height, unit) for one in figure.stand_offs) + tuple(
        AskFacts(
            label=string, unit=unit, part=one.no, nominal=Fraction(0), low=-within, high=within
        )
        for one in between
    )


def _height(figure: StandOffFigure, one: StandOff, label: str, unit: str) -> AskFacts:
    rail = figure.rail
    nominal = _rounded(one.above_tread, unit, round)
    within = _rounded(rail.height_within, unit, round)
    far_low, far_high = _far(figure, one, unit)
    if (far_low is not None and far_low > nominal + within) or (
        far_high is not None and far_high < nominal - within
    ):
        far_low = far_high = None  # the height itself is out of its limits, which the figure says
    return AskFacts(
        label=label,
        unit=unit,
        part=one.no,
        nominal=nominal,
        low=nominal - within if far_low is None else max(nominal - within, far_low),
        high=nominal + within if far_high is None else min(nominal + within, far_high),
        far_low=far_low,
        far_high=far_high,
    )


def _far(figure: StandOffFigure, one: StandOff, unit: str) -> tuple[Fraction | None, ...]:
    """The least and the most height of the rod where the rail's height just keeps its limits."""
    limit = next((each for each in figure.judged if each.what == "handrail_height"), None)
    if limit is None or not limit.within:
        return None, None
    to_rod = one.above_tread - figure.rail.rail_height
    low, high = _inches(limit, limit.least), _inches(limit, limit.most)
    return (
        None if low is None else _rounded(low + to_rod, unit, math.ceil),
        None if high is None else _rounded(high + to_rod, unit, math.floor),
    )


def _inches(limit: Judged, value: float | None) -> float | None:
    return value / MM_PER_INCH if value is not None and limit.unit == "mm" else value


def _rounded(inches: float, unit: str, to_whole: Callable[[float], int]) -> Fraction:
    """A length in whole sixteenths or millimeters; a hair beside one of them is that one."""
    grains = in_unit(inches, unit) / float(_GRAIN[unit])
    return to_whole(round(grains, 6)) * _GRAIN[unit]
