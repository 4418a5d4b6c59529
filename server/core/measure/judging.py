"""Tolerances in two bands, and what a reading is against them. Limits are included."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from server.core.measure.refusals import BandsCross, LimitsReversed, NoLimits
from server.core.refusals import Message, message


class State(StrEnum):
    """What a reading asks for."""

    WITHIN = "within"
    PUT_RIGHT = "put right"
    ASK = "ask"


@dataclass(frozen=True)
class Band:
    """The readings allowed: from `low` to `high`, both included; None where there is no limit.

    Raises `NoLimits` if both are None and `LimitsReversed` if low is more than high.
    """

    low: Fraction | None
    high: Fraction | None

    def __post_init__(self) -> None:
        if self.low is None and self.high is None:
            raise NoLimits(None)
        if self.low is not None and self.high is not None and self.low > self.high:
            raise LimitsReversed(None)

    @classmethod
    def around(cls, nominal: Fraction, minus: Fraction, plus: Fraction | None = None) -> "Band":
        """The band `nominal` - `minus` to `nominal` + `plus` (the same as `minus` if not given).

        >>> Band.around(Fraction(36), Fraction(1, 8))
        Band(low=Fraction(287, 8), high=Fraction(289, 8))
        """
        return cls(nominal - minus, nominal + (minus if plus is None else plus))

    def off(self, value: Fraction) -> Fraction:
        """How far a value lies beyond the nearest limit: above +, below -, within 0."""
        if self.high is not None and value > self.high:
            return value - self.high
        if self.low is not None and value < self.low:
            return value - self.low
        return Fraction(0)

    def holds(self, other: "Band") -> bool:
        """Whether every reading that `other` allows is allowed here too."""
        low = self.low is None or (other.low is not None and other.low >= self.low)
        high = self.high is None or (other.high is not None and other.high <= self.high)
        return low and high


@dataclass(frozen=True)
class Verdict:
    """A reading judged: how far `off` the first band it is, and how far `from_nominal`, signed."""

    state: State
    off: Fraction
    from_nominal: Fraction | None

    def message(self, unit: str) -> Message:
        """The verdict as a message: within, or how much high or low, as it is read off a tape."""
        if self.state is State.WITHIN:
            return message("measure.within")
        off = abs(self.off)
        if unit == "in":
            return message("measure.high" if self.off > 0 else "measure.low", off=off)
        id = "measure.high_in_unit" if self.off > 0 else "measure.low_in_unit"
        return message(id, off=off, unit=unit)


def check_bands(near: Band, far: Band | None, field: str | None = None) -> None:
    """Raises `BandsCross` if the second band does not hold all of the first."""
    if far is not None and not far.holds(near):
        raise BandsCross(field)


def judge(
    value: Fraction, nominal: Fraction | None, near: Band, far: Band | None = None
) -> Verdict:
    """A reading against its tolerances, all in one unit.

    Inside the first band it is within; outside it but inside the second it is to be put right;
    outside both, or outside the first where there is no second, somebody has to be asked.

    >>> first = Band.around(Fraction(36), Fraction(1, 8))
    >>> second = Band.around(Fraction(36), Fraction(1, 4))
    >>> verdict = judge(Fraction("36.1875"), Fraction(36), first, second)
    >>> verdict.state, verdict.off
    (<State.PUT_RIGHT: 'put right'>, Fraction(1, 16))
    """
    off = near.off(value)
    if not off:
        state = State.WITHIN
    elif far is not None and not far.off(value):
        state = State.PUT_RIGHT
    else:
        state = State.ASK
    return Verdict(state, off, None if nominal is None else value - nominal)


def sixteenths(value: Fraction) -> tuple[int, int, int] | None:
    """A value as whole inches and a fraction in lowest terms; None if it is not whole sixteenths.

    The sign is carried by every part that is not zero.

    >>> sixteenths(Fraction("36.0625")), sixteenths(Fraction(-1, 8)), sixteenths(Fraction(1, 3))
    ((36, 1, 16), (0, -1, 8), None)
    """
    if 16 % value.denominator:
        return None
    whole, rest = divmod(abs(value), 1)
    sign = -1 if value < 0 else 1
    return sign * int(whole), sign * rest.numerator, rest.denominator
