"""Units of measurement: how they are written, and how one turns into another, exactly.

The inch is 25.4 mm exactly (international yard and pound agreement of 1959).
"""

from fractions import Fraction

# unit -> what it measures, and how many of the smallest unit of that kind it holds
LENGTHS = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction("25.4")}
LENGTHS["ft"] = 12 * LENGTHS["in"]
TIMES = {"min": Fraction(1), "h": Fraction(60)}

WRITTEN = {
    "in": ('"', "in", "inch", "inches"),
    "ft": ("'", "ft", "foot", "feet"),
    "mm": ("mm", "millimeter", "millimeters"),
    "cm": ("cm", "centimeter", "centimeters"),
    "m": ("m", "meter", "meters"),
    "%": ("%", "percent", "pct"),
    "°F": ("°f", "° f", "f", "deg f", "degrees f"),
    "°C": ("°c", "° c", "c", "deg c", "degrees c"),
    "°": ("°", "deg", "degree", "degrees"),
    "lb": ("lb", "lbs", "pound", "pounds"),
    "psi": ("psi",),
    "min": ("min", "mins", "minute", "minutes"),
    "h": ("h", "hr", "hrs", "hour", "hours"),
    "count": ("pc", "pcs", "ea"),
}
UNITS = tuple(WRITTEN)
_UNIT_OF = {writing: unit for unit, writings in WRITTEN.items() for writing in writings}


def unit_of(written: str) -> str | None:
    """The unit that a writing of it means, or None.

    >>> unit_of("inches"), unit_of("Lbs."), unit_of("cubits")
    ('in', 'lb', None)
    """
    return _UNIT_OF.get(" ".join(written.casefold().rstrip(".").split()))


def converted(value: Fraction, written: str, unit: str) -> Fraction | None:
    """A value written in one unit, in another; None if they measure different things.

    >>> converted(Fraction(914), "mm", "in"), converted(Fraction(20), "°C", "°F")
    (Fraction(4570, 127), Fraction(68, 1))
    >>> converted(Fraction(8), "%", "in") is None
    True
    """
    if written == unit or (written == "°" and unit in ("°F", "°C")):
        return value
    for scale in (LENGTHS, TIMES):
        if written in scale and unit in scale:
            return value * scale[written] / scale[unit]
    if (written, unit) == ("°C", "°F"):
        return value * Fraction(9, 5) + 32
    if (written, unit) == ("°F", "°C"):
        return (value - 32) * Fraction(5, 9)
    return None
