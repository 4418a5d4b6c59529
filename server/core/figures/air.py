"""The air of a room as figures take it, and how much water it still takes up."""

from dataclasses import dataclass
from math import exp, log

from server.core.figures.base import BadFigure

COLDEST, HOTTEST = 0.0, 130.0
"""°F between which air is taken for that of a room, or of a site in its season."""
FREEZES = 32.018
"""°F, the triple point of water: below it the formula over ice holds."""


@dataclass(frozen=True)
class Air:
    """Air of so many °F and so much % relative humidity."""

    fahrenheit: float
    humidity: float


GOOD = Air(70.0, 50.0)
"""The air that drying is told for: 70 °F and 50 %. Common practice."""


def check_air(air: Air, fahrenheit: str, humidity: str) -> None:
    """Refuses what is no air of a room; the names are those of the two fields."""
    if not COLDEST <= air.fahrenheit <= HOTTEST:
        raise BadFigure("figures.bad.air", field=fahrenheit, least=COLDEST, most=HOTTEST)
    if not 0 <= air.humidity <= 100:
        raise BadFigure("figures.bad.humidity", field=humidity)


def saturation(fahrenheit: float) -> float:
    """The pressure of water vapour in psi at which air of so many °F is full of it.

    ASHRAE Handbook of Fundamentals, chapter "Psychrometrics": over ice and over water.

    >>> round(saturation(70.0), 4)
    0.3633
    """
    t = fahrenheit + 459.67
    if fahrenheit < FREEZES:
        over = -1.0214165e4 / t - 4.8932428 - 5.3765794e-3 * t + 1.9202377e-7 * t**2
        return exp(over + 3.5575832e-10 * t**3 - 9.0344688e-14 * t**4 + 4.1635019 * log(t))
    over = -1.0440397e4 / t - 1.1294650e1 - 2.7022355e-2 * t + 1.2890360e-5 * t**2
    return exp(over - 2.4780681e-9 * t**3 + 6.5459673 * log(t))


def deficit(air: Air) -> float:
    """What the vapour in the air lacks till it is full, in psi: the power that dries."""
    return saturation(air.fahrenheit) * (1 - air.humidity / 100)


def drying_power(air: Air) -> float:
    """How well air dries, against air of 70 °F and 50 %.

    >>> drying_power(GOOD), round(drying_power(Air(50.0, 80.0)), 2)
    (1.0, 0.2)
    """
    return deficit(air) / deficit(GOOD)
