"""What a check asks of the parts of a stack: their tolerances, and what still keeps the gap."""

from fractions import Fraction

from server.core.changes.plan import AskFacts
from server.core.figures.stack import PartOfGap, StackFigure


def asks(figure: StackFigure) -> tuple[AskFacts, ...]:
    """What a check asks of each part that is not measured yet: its tolerance, and what still does.

    The far limits are those to which the part has to hold so that the gap stays as wanted; they
    are left out where they are narrower than the tolerance, for then the tolerance is too wide.
    """
    return tuple(_ask(one, figure.stack.unit) for one in figure.parts if one.part.measured is None)


def _ask(one: PartOfGap, unit: str) -> AskFacts:
    part, hold = one.part, one.hold_to
    low, high = _exact(part.nominal - part.minus), _exact(part.nominal + part.plus)
    far_low = None if hold is None or hold.low is None else _exact(hold.low)
    far_high = None if hold is None or hold.high is None else _exact(hold.high)
    wider = (far_low is None or far_low <= low) and (far_high is None or far_high >= high)
    return AskFacts(
        label=part.name,
        unit=unit,
        nominal=_exact(part.nominal),
        low=low,
        high=high,
        far_low=far_low if wider else None,
        far_high=far_high if wider else None,
    )


def _exact(value: float) -> Fraction:
    """A typed number as it was typed: 0.005 and not the float beside it."""
    return Fraction(value).limit_denominator(10_000)
