"""What a check of a flight asks: the height of each finished riser, alike within what varies."""

import math
from fractions import Fraction

from server.core.changes.plan import AskFacts
from server.core.figures.lengths import MM_PER_INCH, in_unit
from server.core.figures.stairs import FlightFigure

_GRAIN = {"in": Fraction(1, 16), "mm": Fraction(1)}
NEAR = {"in": Fraction(1, 8), "mm": Fraction(3)}
"""How far a riser may be off before it is put right: common practice."""
VARIES = {"in": Fraction(3, 8), "mm": Fraction(9)}
"""What may lie between the largest and the smallest: IRC 2021 R311.7.5.1 (tag "S")."""


def risers_asked(figure: FlightFigure, *, riser: str, unit: str = "in") -> tuple[AskFacts, ...]:
    """The height of each riser, numbered from the bottom; `riser` is its label, in words.

    The far limits are half of what may vary to either side, so that any two risers within them
    are near enough to each other; the most that a riser may be caps all of them.
    """
    grain = _GRAIN[unit]
    nominal = round(in_unit(figure.riser, unit) / float(grain)) * grain
    half = math.floor(VARIES[unit] / 2 / grain) * grain
    most = _most(figure, unit)
    high, far = nominal + NEAR[unit], nominal + half
    if most is not None and most >= nominal:
        high, far = min(high, most), min(far, most)
    return tuple(
        AskFacts(
            label=riser,
            unit=unit,
            part=no,
            nominal=nominal,
            low=nominal - NEAR[unit],
            high=high,
            far_low=nominal - half,
            far_high=far,
        )
        for no in range(1, figure.count + 1)
    )


def _most(figure: FlightFigure, unit: str) -> Fraction | None:
    limit = next((one for one in figure.judged if one.what == "riser"), None)
    if limit is None or limit.most is None:
        return None
    inches = limit.most / MM_PER_INCH if limit.unit == "mm" else limit.most
    grain = _GRAIN[unit]
    return math.floor(round(in_unit(inches, unit) / float(grain), 6)) * grain
