"""What each kind of wet work, and finish wood, want of the air. Each number names its source.

The maker's data sheet and the project's specification go before every number here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from server.core.measure import Band

COLD = Fraction(50)
"""°F, the least for wet work of any kind. Common practice; 48 h before board and compound, from
memory of GA-216; while gypsum plaster is wet, from memory of UFGS 09 23 00."""


@dataclass(frozen=True)
class Wanted:
    """The air that wet work wants from the time it is put on till it is dry or hard.

    `air` in °F and `humidity` in %; None where nothing is asked. The room has to be like that
    `ahead` of the work, and stay so `after` it where no wait says how long.
    """

    air: Band
    humidity: Band | None = None
    ahead: timedelta = timedelta(0)
    after: timedelta = timedelta(0)
    between: timedelta = timedelta(0)
    """The least time between two coats of it."""


ANY = Wanted(Band(COLD, None))
"""Where nobody has said what it is made of: not cold. Common practice."""
DAMP = Band(COLD, Fraction(90)), Band(Fraction(40), None)
"""Lime and cement want damp and moderate warmth: 50 to 90 °F, no less than 40 % humidity. Common
practice."""

WANTED: Mapping[str, Wanted] = {
    "": ANY,
    "lime": Wanted(*DAMP),
    # 48 h between coats and 7 days after the last: from memory of ASTM C926.
    "cement": Wanted(*DAMP, after=timedelta(days=7), between=timedelta(hours=48)),
    # 50 to 80 °F in the room while it is wet: from memory of UFGS 09 23 00.
    "gypsum": Wanted(Band(COLD, Fraction(80))),
    # 50 °F for 48 h before: from memory of GA-216.
    "compound": Wanted(Band(COLD, None), ahead=timedelta(hours=48)),
    "adhesive": ANY,
    "grout": ANY,
}

DRIES_SMALL = frozenset({"adhesive", "grout"})
"""What gives off too little water to keep finish wood out of a house. Common practice."""

WOOD_AIR = Band(Fraction(60), Fraction(80))
"""°F where finish wood is brought or fitted: interior range, from memory of AWI and AWMAC."""
WOOD_HUMIDITY = Band(Fraction(30), Fraction(50))
"""% where finish wood is brought or fitted: interior range, from memory of AWI and AWMAC."""
WOOD_APART = Fraction(2)
"""Points between wood of 3 in and wider and what carries it, at most: from memory of NWFA."""


def wanted_by(stuff: str) -> Wanted:
    """What wet work of a stuff wants; an unknown stuff wants what any does."""
    return WANTED.get(stuff, ANY)


def wood_settles_at(air: Fraction, humidity: Fraction) -> Fraction:
    """The moisture that wood comes to, in %, in air of so many °F and so much % humidity.

    To a tenth of a point. The equation of the Wood Handbook (USDA FPL-GTR-190, chapter 4), from
    memory.

    >>> wood_settles_at(Fraction(70), Fraction(50))
    Fraction(46, 5)
    """
    t, h = float(air), float(humidity) / 100
    weight = 330 + 0.452 * t + 0.00415 * t * t
    k = 0.791 + 4.63e-4 * t - 8.44e-7 * t * t
    first = 6.34 + 7.75e-4 * t - 9.35e-5 * t * t
    second = 1.09 + 2.84e-2 * t - 9.04e-5 * t * t
    kh = k * h
    both = first * kh + first * second * kh * kh
    bound = (first * kh + 2 * first * second * kh * kh) / (1 + both)
    return Fraction(round(18000 / weight * (kh / (1 - kh) + bound)), 10)
