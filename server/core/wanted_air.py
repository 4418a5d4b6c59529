"""What each kind of wet work, and finish wood, want of the air. Each number names its source.

The maker's data sheet and the project's specification go before every number here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from server.core.figures.moisture import equilibrium
from server.core.measure import Band

COLD = Fraction(50)
"""°F, the least for wet work of any kind. Common practice; 48 h before board and compound, from
memory of GA-216; while gypsum plaster is wet, UFGS (veneer plaster)."""


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
    # 50 to 80 °F in the room from a week before till a week after it is set: UFGS (veneer plaster).
    "gypsum": Wanted(Band(COLD, Fraction(80))),
    # 50 °F for 48 h before: from memory of GA-216.
    "compound": Wanted(Band(COLD, None), ahead=timedelta(hours=48)),
    "adhesive": ANY,
    "grout": ANY,
}

DRIES_SMALL = frozenset({"adhesive", "grout"})
"""What gives off too little water to keep finish wood out of a house. Common practice."""

WOOD_AIR = Band(Fraction(60), Fraction(80))
"""°F where finish wood is brought or fitted: NWFA, as its magazine restates it (June 2017)."""
WOOD_HUMIDITY = Band(Fraction(30), Fraction(50))
"""% where finish wood is brought or fitted: NWFA, as its magazine restates it (June 2017)."""
WOOD_APART = Fraction(2)
"""Points between wood of 3 in and wider and what carries it, at most: NWFA, restated by makers."""
WOOD_APART_NARROW = Fraction(4)
"""The same for narrower wood."""
WIDE_WOOD = Fraction(3)
"""Inches from which finish wood is wide."""


def wanted_by(stuff: str) -> Wanted:
    """What wet work of a stuff wants; an unknown stuff wants what any does."""
    return WANTED.get(stuff, ANY)


def wood_settles_at(air: Fraction, humidity: Fraction) -> Fraction:
    """The moisture that wood comes to, in %, in air of so many °F and so much % humidity.

    To a tenth of a point.

    >>> wood_settles_at(Fraction(70), Fraction(50))
    Fraction(46, 5)
    """
    return Fraction(round(equilibrium(float(air), float(humidity)) * 10), 10)
