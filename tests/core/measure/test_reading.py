"""What trade people type, and what is made of it."""

from fractions import Fraction

import pytest

from server.core.measure import NoNumber, read

THREE_FEET_AND_A_HALF_INCH = Fraction(73, 2)


@pytest.mark.parametrize(
    "typed",
    [
        "36 1/16",
        "36-1/16",
        " 36  1 / 16 ",
        "36\u00a01/16",
        "36\u202f1\u204416",
        '36 1/16"',
        "36 1/16”",
        "36 1/16″",
        "36 1/16''",
        "36 1/16 in.",
        "36 1/16 Inches",
        "+36 1/16",
        "36.0625",
        "36.0625 in",
        "3' 0 1/16\"",
    ],
)
def test_thirty_six_and_a_sixteenth_is_read_however_it_is_written(typed: str) -> None:
    assert read(typed, "in") == Fraction(577, 16)


@pytest.mark.parametrize(
    "typed",
    [
        "36 ½",
        "36½",
        "36-½",
        "3' 0 1/2\"",
        "3'-0 1/2\"",
        "3’ 0 ½”",
        "3′-0 ½″",
        "3ft 0 1/2in",
        "3 ft 0 1/2 in",
        "3 feet 0.5 inches",
        "3' ½",
    ],
)
def test_feet_and_inches_are_read_as_inches(typed: str) -> None:
    assert read(typed, "in") == THREE_FEET_AND_A_HALF_INCH


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("1/16", Fraction(1, 16)),
        ("-1/8", Fraction(-1, 8)),
        ("− ⅛", Fraction(-1, 8)),
        ("+1/16", Fraction(1, 16)),
        ("0", Fraction(0)),
        ("5⅛", Fraction(41, 8)),
        (".5", Fraction(1, 2)),
        ("36.", Fraction(36)),
        ("36.06", Fraction(1803, 50)),
        ("3'", Fraction(36)),
        ("3.5'", Fraction(42)),
        ("-3' 6\"", Fraction(-42)),
        ("17/16", Fraction(17, 16)),
        ("914 mm", Fraction(9140, 254)),
        ("91.4cm", Fraction(9140, 254)),
    ],
)
def test_an_inch_check_takes(typed: str, value: Fraction) -> None:
    assert read(typed, "in") == value


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("914", "mm", Fraction(914)),
        ('36"', "mm", Fraction(4572, 5)),
        ("8.5 %", "%", Fraction(17, 2)),
        ("8.5", "%", Fraction(17, 2)),
        ("68", "°F", Fraction(68)),
        ("68°", "°F", Fraction(68)),
        ("68 °F", "°F", Fraction(68)),
        ("20 °C", "°F", Fraction(68)),
        ("200 lbs", "lb", Fraction(200)),
        ("6' 8\"", "ft", Fraction(20, 3)),
        ("1 1/2 h", "min", Fraction(90)),
        ("30", "h", Fraction(30)),
        ("7", "count", Fraction(7)),
        ("7 pcs", "count", Fraction(7)),
    ],
)
def test_other_units_are_read(typed: str, unit: str, value: Fraction) -> None:
    assert read(typed, unit) == value


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", "measure.empty"),
        (" \u00a0 ", "measure.empty"),
        ("1/0", "measure.over_zero"),
        ("36 1/0", "measure.over_zero"),
        ("36,06", "measure.decimal_comma"),
        ("1,016", "measure.thousands_comma"),
        ("36, 37", "measure.two_numbers"),
        ("36 37", "measure.two_numbers"),
        ('36" 37"', "measure.two_numbers"),
        ("36 1/16 36 1/8", "measure.two_numbers"),
        ("36 -1/16", "measure.two_numbers"),
        ("3 1/2' 6\"", "measure.two_numbers"),
        ("3.5' 6\"", "measure.two_numbers"),
        ("3' 14\"", "measure.inches_over_foot"),
        ("3' 12\"", "measure.inches_over_foot"),
        ("36 5/4", "measure.fraction_over_one"),
        ("36 4/4", "measure.fraction_over_one"),
        ("plumb", "measure.not_a_number"),
        ("36 to 37", "measure.not_a_number"),
        ("36 1/16 wet", "measure.not_a_number"),
        ("nan", "measure.not_a_number"),
        ("inf", "measure.not_a_number"),
        ("1e400", "measure.not_a_number"),
        ("5²", "measure.not_a_number"),
        ("--5", "measure.not_a_number"),
        ("1/", "measure.not_a_number"),
        ("'", "measure.not_a_number"),
        ("<b>36</b>", "measure.not_a_number"),
        ("9" * 41, "measure.too_long"),
        ("36 %", "measure.other_unit"),
        ("36 lb", "measure.other_unit"),
        ("914", "measure.maybe_mm"),
    ],
)
def test_an_inch_check_refuses(typed: str, why: str) -> None:
    with pytest.raises(NoNumber) as refused:
        read(typed, "in", field="reading-3")
    assert refused.value.id == why
    assert refused.value.field == "reading-3"


def test_every_refusal_of_a_readable_length_keeps_what_was_typed() -> None:
    with pytest.raises(NoNumber) as refused:
        read(" 36,06 ", "in")
    assert refused.value.values["typed"] == "36,06"
    assert refused.value.values["instead"] == "36.06"


def test_a_bare_914_where_36_inches_are_expected_asks_whether_it_is_millimeters() -> None:
    with pytest.raises(NoNumber) as refused:
        read("914", "in", near=Fraction(36))
    assert refused.value.id == "measure.maybe_mm"


def test_a_bare_3_where_an_eighth_is_expected_asks_whether_it_is_millimeters() -> None:
    with pytest.raises(NoNumber) as refused:
        read("3", "in", near=Fraction(1, 8))
    assert refused.value.id == "measure.maybe_mm"


@pytest.mark.parametrize("typed", ["914 in", '914"', "76' 2\"", "914 0/1"])
def test_a_large_number_that_says_its_unit_is_taken(typed: str) -> None:
    assert read(typed, "in", near=Fraction(36)) == 914


def test_a_large_bare_number_is_taken_where_a_large_one_is_expected() -> None:
    assert read("412", "in", near=Fraction(410)) == 412


def test_a_large_number_that_is_not_near_in_millimeters_either_is_taken() -> None:
    assert read("200", "in", near=Fraction(36)) == 200


def test_a_nominal_of_zero_does_not_make_every_number_doubtful() -> None:
    assert read("2", "in", near=Fraction(0)) == 2


@pytest.mark.parametrize("typed", ["36", "36 1/16", "36.06"])
def test_a_bare_number_on_a_millimeter_check_that_is_near_in_inches_is_asked_about(
    typed: str,
) -> None:
    with pytest.raises(NoNumber) as refused:
        read(typed, "mm", near=Fraction(914))
    assert refused.value.id == "measure.maybe_inches"


@pytest.mark.parametrize("typed", ["7.5", "-1", "1/2"])
def test_a_count_is_a_whole_number_of_none_or_more(typed: str) -> None:
    with pytest.raises(NoNumber) as refused:
        read(typed, "count")
    assert refused.value.id == "measure.not_whole"


def test_asking_for_a_unit_that_does_not_exist_is_a_mistake_in_the_program() -> None:
    with pytest.raises(ValueError, match="cubit"):
        read("3", "cubit")
