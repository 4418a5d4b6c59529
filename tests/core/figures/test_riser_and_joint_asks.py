"""What checks ask of the risers of a flight and of the joints at its treads."""

from fractions import Fraction

import pytest

from server.core.figures.base import Limit, Profile
from server.core.figures.joint_asks import widths
from server.core.figures.riser_asks import risers_asked
from server.core.figures.stairs import Flight, flight

PROFILE = Profile(id="p", name="P", edition="1", limits={"riser": Limit(unit="in", most=7.75)})
POINTS = ("front", "middle", "back")


def asked(rise: float, count: int, unit: str = "in") -> list[tuple[Fraction | None, ...]]:
    figure = flight(Flight(rise=rise, going=10.25, count=count), PROFILE)
    asks = risers_asked(figure, riser="Riser", unit=unit)
    return [(a.far_low, a.low, a.nominal, a.high, a.far_high) for a in asks]


def test_each_riser_has_its_height_near_and_far() -> None:
    found = asked(105, 14)
    assert len(found) == 14
    assert set(found) == {tuple(map(Fraction, ("117/16", "59/8", "15/2", "61/8", "123/16")))}


def test_any_two_risers_within_the_far_limits_differ_by_no_more_than_may_vary() -> None:
    far_low, *_, far_high = asked(105, 14)[0]
    assert far_low is not None
    assert far_high is not None
    assert far_high - far_low <= Fraction(3, 8)


def test_no_riser_may_be_higher_than_the_profile_lets_it() -> None:
    *_, high, far_high = asked(7.6875 * 14, 14)[0]
    assert (high, far_high) == (Fraction("31/4"), Fraction("31/4"))


def test_risers_are_asked_in_whole_millimeters() -> None:
    assert asked(105, 14, "mm")[0][2] in (Fraction(190), Fraction(191))


def test_a_joint_is_asked_at_three_points_of_each_tread() -> None:
    asks = widths(1 / 16, 3 / 16, labels=POINTS, parts=13)
    assert len(asks) == 39
    assert {(a.low, a.high) for a in asks} == {(Fraction(1, 16), Fraction(3, 16))}


def test_a_joint_without_parts_is_asked_once_at_each_point() -> None:
    assert [a.part for a in widths(1 / 16, 3 / 16, labels=POINTS, parts=0)] == [None] * 3


@pytest.mark.parametrize("least", [0.07, 0.0626])
def test_the_limits_of_a_joint_are_never_rounded_outward(least: float) -> None:
    ask = widths(least, 0.18, labels=POINTS, parts=1)[0]
    assert ask.low is not None
    assert ask.high is not None
    assert ask.low >= least - 1e-9
    assert ask.high <= 0.18


def test_a_joint_between_two_marks_of_the_rule_keeps_its_own_limits() -> None:
    ask = widths(0.07, 0.08, labels=POINTS, parts=1)[0]
    assert (ask.low, ask.high) == (Fraction(7, 100), Fraction(8, 100))
