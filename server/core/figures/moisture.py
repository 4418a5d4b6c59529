"""The moisture that wood comes to in air, and how far it moves when that changes."""

from dataclasses import dataclass
from typing import Literal

from server.core.figures.base import BadFigure

Grain = Literal["flat", "quarter", "along"]
"""What lies across the joint: flat-sawn or quarter-sawn wood across the grain, or its length."""

VALID = (6.0, 14.0)
"""% of moisture between which the movement is held to be even: Wood Handbook, chapter 13."""
ALONG = 0.002 / 28
"""Movement along the grain per point: 0.2 % from green to dry, over 28 points. From memory."""
CALIBRATED = 70.0
"""°F of the wood at which a pin meter reads right. From memory."""
PER_TEN = 0.5
"""Points that a meter reads high for each 10 °F that the wood is warmer: Wood Handbook, ch. 4."""


@dataclass(frozen=True, kw_only=True)
class Species:
    """A wood and how far it moves: per point of moisture, as a part of its width."""

    id: str
    name: str
    radial: float
    tangential: float
    source: str = ""
    tag: str = ""

    def coefficient(self, grain: Grain) -> float:
        """Quarter-sawn wood moves by the radial one, flat-sawn by the tangential one."""
        return {"quarter": self.radial, "flat": self.tangential, "along": ALONG}[grain]


def equilibrium(fahrenheit: float, humidity: float) -> float:
    """The moisture in % that wood comes to in air of so many °F and so much % humidity.

    Wood Handbook (USDA FPL-GTR-282), equation (4-5). Raises `BadFigure` for no humidity.

    >>> round(equilibrium(70, 50), 1)
    9.2
    """
    if not 0 <= humidity <= 100:
        raise BadFigure("figures.bad.humidity", field="humidity")
    t, h = fahrenheit, humidity / 100
    w = 330 + 0.452 * t + 0.00415 * t * t
    k = 0.791 + 4.63e-4 * t - 8.44e-7 * t * t
    k1 = 6.34 + 7.75e-4 * t - 9.35e-5 * t * t
    k2 = 1.09 + 2.84e-2 * t - 9.04e-5 * t * t
    kh = k * h
    first, second = k1 * kh, k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + (first + 2 * second) / (1 + first + second))


def movement(width: float, coefficient: float, at: float, then: float) -> float:
    """How much wider wood becomes that goes from `at` to `then` % moisture; narrower below 0.

    In the unit of the width. Wood Handbook, chapter 13, for small changes between 6 and 14 %.

    >>> round(movement(232, 0.00245, 8, 11), 3)
    1.705
    """
    return width * coefficient * (then - at)


def in_range(*moistures: float) -> bool:
    """Whether all lie where the equation of movement holds."""
    return all(VALID[0] <= moisture <= VALID[1] for moisture in moistures)


def metered(reading: float, fahrenheit: float) -> float:
    """What a pin meter would read if the wood were as warm as the meter is made for.

    >>> metered(9.0, 50.0)
    10.0
    """
    return reading - PER_TEN * (fahrenheit - CALIBRATED) / 10
