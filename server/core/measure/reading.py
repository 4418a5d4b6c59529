"""Numbers as trade people write them, read exactly."""

import re
import unicodedata
from fractions import Fraction

from server.core.measure import refusals
from server.core.measure.units import UNITS, converted, unit_of

LIMIT = 40
# Without a nominal, a bare number above this is no inch measurement on a house stair.
MOST_BARE_INCHES = 400
TIMES_NOMINAL = 4

_PLAIN = {
    **dict.fromkeys("’‘′ʹ´`ʼ＇", "'"),
    **dict.fromkeys("”“″„ʺ＂", '"'),
    **dict.fromkeys("⁄∕／", "/"),
    **dict.fromkeys("–—−‐‑‒", "-"),
    "º": "°",
    "％": "%",
}
_DECIMAL = re.compile(r"\d+\.?\d*|\.\d+")
_MIXED = re.compile(r"(?:(\d+)(?:\s+|-\s*))?(\d+)\s*/\s*(\d+)")
_SIGNED = re.compile(r"([+-]?)\s*(.*)")
_FEET = re.compile(r"([\d\s./-]*\d\.?)\s*(?:'|(?:ft|feet|foot)\b\.?)[\s-]*(.*)")
_INCHES = re.compile(r'(.*?)\s*(?:"|(?:in|inch|inches)\.?)?')
_NUMBER_THEN_UNIT = re.compile(r"([\d\s./-]*\d\.?)\s*([^\d\s.].*)?")


def read(
    text: str, unit: str, *, near: Fraction | None = None, field: str | None = None
) -> Fraction:
    """What was typed, as an exact number of `unit`.

    A number without a unit is in `unit`; with another unit of the same kind it is converted
    exactly. `near` is the value expected: a bare number that is far from it, and close to it in
    millimeters (or inches, where millimeters are asked for), is asked about and not taken.
    `field` is the form field that a refusal names. Raises a `NoNumber`.

    >>> read("36-1/16", "in"), read("3'-0 ½”", "in"), read("914 mm", "in")
    (Fraction(577, 16), Fraction(73, 2), Fraction(4570, 127))
    >>> read("914", "in", near=Fraction(36))
    Traceback (most recent call last):
        ...
    server.core.measure.refusals.MaybeMillimeters: measure.maybe_mm {'typed': '914'}
    """
    if unit not in UNITS:
        raise ValueError(f"unknown unit {unit!r}")
    typed = text.strip()
    if not typed:
        raise refusals.Empty(field)
    if len(typed) > LIMIT:
        raise refusals.TooLong(LIMIT, field)
    _no_comma(typed, field)
    reading = _Reading(typed, field)
    sign, plain = _signed(_plain(typed))
    value, written, bare_fraction = reading.quantity(plain)
    value *= sign
    if written is None:
        _ask_if_other_unit(value, unit, near, bare_fraction, typed, field)
    result = value if written is None else converted(value, written, unit)
    if result is None:
        raise refusals.OtherUnit(typed, unit, field)
    if unit == "count" and (result < 0 or result.denominator != 1):
        raise refusals.NotWhole(typed, field)
    return result


def _plain(typed: str) -> str:
    """The same with one kind of space, quote, dash and slash, and fractions spelled out."""
    out = []
    for sign in typed:
        letter = unicodedata.decomposition(sign)
        if sign in _PLAIN:
            out.append(_PLAIN[sign])
        elif sign.isspace():
            out.append(" ")
        elif letter.startswith("<fraction>") and unicodedata.numeric(sign, None) is not None:
            parts = unicodedata.normalize("NFKC", sign).replace("⁄", "/")
            out.append(f" {parts} " if "/" in parts else sign)
        else:
            out.append(sign)
    return "".join(out).replace("''", '"').casefold().strip()


def _no_comma(typed: str, field: str | None) -> None:
    if "," not in typed:
        return
    if re.search(r"\d,\d{3}(?!\d)", typed):
        raise refusals.ThousandsComma(typed, field)
    if re.search(r"\d,\d", typed):
        raise refusals.DecimalComma(typed, field)
    raise refusals.TwoNumbers(typed, field)


def _signed(plain: str) -> tuple[int, str]:
    match = _SIGNED.fullmatch(plain)
    assert match is not None
    return (-1 if match[1] == "-" else 1), match[2]


class _Reading:
    """One typed text being read; holds what its refusals must name."""

    def __init__(self, typed: str, field: str | None) -> None:
        self.typed = typed
        self.field = field

    def quantity(self, plain: str) -> tuple[Fraction, str | None, bool]:
        """The number, the unit written after it if any, and whether it was a fraction."""
        if feet := _FEET.fullmatch(plain):
            return self._feet(feet[1], feet[2])
        match = _NUMBER_THEN_UNIT.fullmatch(plain)
        if match is None:
            raise self._unreadable(plain)
        unit = unit_of(match[2]) if match[2] else None
        if match[2] and unit is None:
            raise self._unreadable(plain)
        return self._number(match[1], plain), unit, "/" in match[1]

    def _feet(self, feet: str, rest: str) -> tuple[Fraction, str, bool]:
        if not rest:
            return self._number(feet, feet), "ft", False
        inches = _INCHES.fullmatch(rest)
        assert inches is not None
        if not feet.strip().isdecimal():
            raise refusals.TwoNumbers(self.typed, self.field)
        value = self._number(inches[1], f"{feet} {inches[1]}")
        if value >= 12:
            raise refusals.InchesOverFoot(self.typed, self.field)
        return int(feet) * 12 + value, "in", False

    def _number(self, text: str, whole: str) -> Fraction:
        text = text.strip()
        if _DECIMAL.fullmatch(text):
            return Fraction(text.rstrip("."))
        match = _MIXED.fullmatch(text)
        if match is None:
            raise self._unreadable(whole)
        over, under = int(match[2]), int(match[3])
        if under == 0:
            raise refusals.OverZero(self.typed, self.field)
        if match[1] is None:
            return Fraction(over, under)
        if over >= under:
            raise refusals.FractionOverOne(self.typed, self.field)
        return int(match[1]) + Fraction(over, under)

    def _unreadable(self, plain: str) -> refusals.NoNumber:
        words = re.findall(r"[^\W\d_]+", plain)
        if len(re.findall(r"\d+", plain)) > 1 and all(unit_of(word) for word in words):
            return refusals.TwoNumbers(self.typed, self.field)
        return refusals.NotANumber(self.typed, self.field)


def _ask_if_other_unit(
    value: Fraction,
    unit: str,
    near: Fraction | None,
    is_fraction: bool,
    typed: str,
    field: str | None,
) -> None:
    size, nominal = abs(value), abs(near) if near else None
    if unit == "in" and not is_fraction:
        as_inches = size / Fraction("25.4")
        if nominal is None:
            doubtful = size > MOST_BARE_INCHES
        else:
            too_large = size > TIMES_NOMINAL * nominal
            doubtful = too_large and (_close(as_inches, nominal) or size > MOST_BARE_INCHES)
        if doubtful:
            raise refusals.MaybeMillimeters(typed, field)
    if unit == "mm":
        too_small = nominal is not None and size * TIMES_NOMINAL < nominal
        as_mm = size * Fraction("25.4")
        if is_fraction or (too_small and nominal is not None and _close(as_mm, nominal)):
            raise refusals.MaybeInches(typed, field)


def _close(value: Fraction, nominal: Fraction) -> bool:
    return nominal / 2 <= value <= nominal * 2
