"""Why a number that somebody typed is not taken. Each carries what was typed, and its field."""

from server.core.refusals import Refusal


class NoNumber(Refusal):
    """The base of these refusals; raised as one of those below."""


class Empty(NoNumber):
    """Nothing was typed."""

    def __init__(self, field: str | None) -> None:
        super().__init__("measure.empty", field=field)


class TooLong(NoNumber):
    """More characters than any measurement needs."""

    def __init__(self, limit: int, field: str | None) -> None:
        super().__init__("measure.too_long", field=field, limit=limit)


class NotANumber(NoNumber):
    """Words, or something else that is no measurement."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.not_a_number", field=field, typed=typed)


class TwoNumbers(NoNumber):
    """More than one number in one box."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.two_numbers", field=field, typed=typed)


class DecimalComma(NoNumber):
    """`36,06`: a comma where the point belongs."""

    def __init__(self, typed: str, field: str | None) -> None:
        instead = typed.replace(",", ".")
        super().__init__("measure.decimal_comma", field=field, typed=typed, instead=instead)


class ThousandsComma(NoNumber):
    """`1,016`: a comma that may set off thousands or decimals."""

    def __init__(self, typed: str, field: str | None) -> None:
        instead = typed.replace(",", "")
        super().__init__("measure.thousands_comma", field=field, typed=typed, instead=instead)


class OverZero(NoNumber):
    """A fraction with nothing under the line."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.over_zero", field=field, typed=typed)


class FractionOverOne(NoNumber):
    """`36 5/4`: beside a whole number the fraction is less than one, or it is a slip."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.fraction_over_one", field=field, typed=typed)


class InchesOverFoot(NoNumber):
    """`3' 14"`: twelve inches or more after feet."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.inches_over_foot", field=field, typed=typed)


class OtherUnit(NoNumber):
    """A unit that cannot be turned into the one asked for."""

    def __init__(self, typed: str, unit: str, field: str | None) -> None:
        super().__init__("measure.other_unit", field=field, typed=typed, unit=unit)


class NotWhole(NoNumber):
    """A count that is not a whole number, or is less than none."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.not_whole", field=field, typed=typed)


class MaybeMillimeters(NoNumber):
    """A bare number far too large as inches: was it read off the metric edge of the tape?"""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.maybe_mm", field=field, typed=typed)


class MaybeInches(NoNumber):
    """A bare number where millimeters are asked for, that looks like inches."""

    def __init__(self, typed: str, field: str | None) -> None:
        super().__init__("measure.maybe_inches", field=field, typed=typed)


class NoLimits(Refusal):
    """A tolerance with neither a least nor a most."""

    def __init__(self, field: str | None) -> None:
        super().__init__("measure.no_limits", field=field)


class LimitsReversed(Refusal):
    """A tolerance whose least is more than its most."""

    def __init__(self, field: str | None) -> None:
        super().__init__("measure.limits_reversed", field=field)


class BandsCross(Refusal):
    """The second tolerance does not hold all of the first."""

    def __init__(self, field: str | None) -> None:
        super().__init__("measure.bands_cross", field=field)
