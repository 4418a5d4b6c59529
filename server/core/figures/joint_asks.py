"""What a check of joints asks at each piece: the width at three points, within least and most."""

import math
from fractions import Fraction

from server.core.changes.plan import AskFacts
from server.core.figures.lengths import in_unit

# A joint is narrow: read to 1/32 in or half a millimeter.
_GRAIN = {"in": Fraction(1, 32), "mm": Fraction(1, 2)}


def widths(
    least_in: float, most_in: float, *, labels: tuple[str, ...], parts: int, unit: str = "in"
) -> tuple[AskFacts, ...]:
    """The asks for each point (its label) of each part, or of the whole where there are no parts.

    Limits are rounded into the joint's own: nothing outside them is let through. Where less than
    a grain lies between them they stay as they are.
    """
    low, high = (in_unit(value, unit) for value in (least_in, most_in))
    grain = _GRAIN[unit]
    least = math.ceil(round(low / float(grain), 6)) * grain
    most = math.floor(round(high / float(grain), 6)) * grain
    if least > most:
        least, most = (Fraction(value).limit_denominator(1000) for value in (low, high))
    return tuple(
        AskFacts(label=label, unit=unit, part=part, low=least, high=most)
        for label in labels
        for part in (range(1, parts + 1) if parts else (None,))
    )
