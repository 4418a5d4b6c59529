"""Numbers as a tape or a scale shows them: sixteenths as fractions, the rest as decimals."""

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from babel import Locale
from babel.numbers import format_decimal

# The finest division on a tape that anybody writes as a fraction.
FINEST = 64
PLACES = 3


def mixed(value: Fraction) -> str | None:
    """The number as a tape reads, or None if its denominator is not on a tape.

    >>> mixed(Fraction(577, 16)), mixed(Fraction(-1, 8)), mixed(Fraction(1, 3))
    ('36 1/16', '-1/8', None)
    """
    denominator = value.denominator
    if denominator > FINEST or denominator & (denominator - 1):
        return None
    whole, rest = divmod(abs(value), 1)
    parts = [str(whole)] if whole or not rest else []
    if rest:
        parts.append(f"{rest.numerator}/{rest.denominator}")
    return ("-" if value < 0 else "") + " ".join(parts)


def decimal(value: Fraction, locale: Locale) -> tuple[str, bool]:
    """The number with at most three decimals, and whether that is exact.

    >>> decimal(Fraction("36.06"), Locale("en")), decimal(Fraction(1, 3), Locale("en"))
    (('36.06', True), ('0.333', False))
    """
    scaled = value * 10**PLACES
    exact = scaled.denominator == 1
    rounded = Decimal(scaled.numerator) / Decimal(scaled.denominator)
    number = rounded.quantize(Decimal(1), ROUND_HALF_EVEN).scaleb(-PLACES)
    # Ungrouped: a thousands comma is refused when a number is typed, so it is not shown either.
    text = format_decimal(number, format="0.###", locale=locale, group_separator=False)
    return text, exact
