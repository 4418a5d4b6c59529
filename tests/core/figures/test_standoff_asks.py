"""What a check of stand-offs asks: heights inside the limits, and one string for all."""

from fractions import Fraction
from typing import Any

from server.core.changes.plan import AskFacts
from server.core.changes.plan_checks import checked_ask
from server.core.figures.base import Limit, Profile
from server.core.figures.standoff_asks import asks
from server.core.figures.standoffs import stand_offs
from tests.core.figures.stacks import a_rail

LIMITS = Profile(
    id="test",
    name="Test figures",
    edition="",
    limits={"handrail_height": Limit(unit="in", least=34, most=38)},
)
SIXTEENTH = Fraction(1, 16)


def asked(unit: str = "in", **more: Any) -> list[AskFacts]:
    figure = stand_offs(a_rail(**more), LIMITS)
    return list(asks(figure, height="height", string="string", unit=unit))


def heights(found: list[AskFacts]) -> list[AskFacts]:
    return [ask for ask in found if ask.label == "height"]


def strung(found: list[AskFacts]) -> list[AskFacts]:
    return [ask for ask in found if ask.label == "string"]


def test_each_stand_off_is_asked_for_its_height_and_those_between_for_the_string() -> None:
    found = asked()
    assert [ask.part for ask in heights(found)] == [1, 2, 3, 4, 5, 6]
    assert [ask.part for ask in strung(found)] == [2, 3, 4, 5]


def test_straightness_is_a_sixteenth_and_height_a_quarter() -> None:
    found = asked()
    first, string = heights(found)[0], strung(found)[0]
    assert (string.low, string.nominal, string.high) == (-SIXTEENTH, 0, SIXTEENTH)
    assert first.nominal is not None
    assert (first.low, first.high) == (first.nominal - 4 * SIXTEENTH, first.nominal + 4 * SIXTEENTH)


def test_heights_are_asked_to_a_sixteenth() -> None:
    assert heights(asked())[0].nominal == Fraction("39.875")  # 39.8625 exactly


def test_the_far_limits_are_those_of_the_rail() -> None:
    first = heights(asked())[0]
    assert (first.far_low, first.far_high) == (Fraction("37.875"), Fraction("41.8125"))


def test_near_a_limit_the_height_is_held_inside_it() -> None:
    first = heights(asked(rail_height=37.875))[0]
    assert first.high == first.far_high
    assert first.nominal is not None
    assert first.low == first.nominal - 4 * SIXTEENTH


def test_a_rail_out_of_its_limits_has_no_far_limits() -> None:
    first = heights(asked(rail_height=39))[0]
    assert (first.far_low, first.far_high) == (None, None)


def test_in_millimeters_they_are_whole() -> None:
    first = heights(asked("mm"))[0]
    assert (first.unit, first.nominal, first.low) == ("mm", 1013, 1007)
    assert strung(asked("mm"))[0].high == 2


def test_a_check_takes_them() -> None:
    for height in (34, 34.01, 36, 37.99, 38, 40):
        for unit in ("in", "mm"):
            for ask in asked(unit, rail_height=height):
                assert checked_ask(ask, parts=6) == ask
