"""What a check asks of the parts of a stack: their tolerances, and what still keeps the gap."""

from fractions import Fraction

from server.core.changes.plan import AskFacts
from server.core.figures.lengths import MM_PER_INCH
from server.core.figures.stack import PartOfGap


def part_asked(
    one: PartOfGap, *, unit: str = "in", label: str = "", no: int | None = None, off: bool = False
) -> AskFacts:
    """What a check asks of a part of a stack in inches: its tolerance, and what still does.

    `label` and `no` are the check's own; without a label it is the name of the part. `off`: it
    asks for how far the part is off.

    The far limits are those to which the part has to hold so that the gap stays as wanted; they
    are left out where they are narrower than the tolerance, for then the tolerance is too wide.
    """
    part, hold = one.part, one.hold_to
    zero = part.nominal if off else 0.0
    nominal = part.nominal - zero
    low, high = _exact(nominal - part.minus, unit), _exact(nominal + part.plus, unit)
    far_low = None if hold is None or hold.low is None else _exact(hold.low - zero, unit)
    far_high = None if hold is None or hold.high is None else _exact(hold.high - zero, unit)
    wider = (far_low is None or far_low <= low) and (far_high is None or far_high >= high)
    return AskFacts(
        label=label or part.name,
        unit=unit,
        part=no,
        nominal=_exact(nominal, unit),
        low=low,
        high=high,
        far_low=far_low if wider else None,
        far_high=far_high if wider else None,
    )


def _exact(inches: float, unit: str) -> Fraction:
    """A typed number as it was typed: 0.005 and not the float beside it."""
    if unit == "mm":
        return Fraction(round(inches * MM_PER_INCH * 100), 100)
    return Fraction(inches).limit_denominator(10_000)
