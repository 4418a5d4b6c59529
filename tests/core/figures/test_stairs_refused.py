"""Inputs from which no stair can be made are refused, each beside its field."""

import math
from collections.abc import Callable

import pytest

from server.core.figures import stairs
from server.core.figures.base import BadFigure, Limit, Profile
from server.core.figures.stairs import Flight, Winders

NONE = Profile(id="none", name="None", edition="")


def refused(make: Callable[[], object]) -> tuple[str, str | None]:
    with pytest.raises(BadFigure) as caught:
        make()
    return caught.value.id, caught.value.field


def a_flight(**changed: object) -> Callable[[], object]:
    asked: dict[str, object] = {"rise": 105.0, "going": 10.5, "count": 14, **changed}
    return lambda: stairs.flight(Flight(**asked), NONE)  # type: ignore[arg-type]


def a_turn(**changed: object) -> Callable[[], object]:
    asked: dict[str, object] = {
        "radius": 40.0, "width": 36.0, "turn": 90.0, "count": 4, "walkline_from": 12.0, **changed
    }  # fmt: skip
    return lambda: stairs.winders(Winders(**asked), NONE)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changed", "id", "field"),
    [
        ({"rise": 0.0}, "figures.over_zero", "rise"),
        ({"rise": -3.0}, "figures.over_zero", "rise"),
        ({"rise": math.nan}, "figures.too_long", "rise"),
        ({"rise": math.inf}, "figures.too_long", "rise"),
        ({"going": 0.0}, "figures.over_zero", "going"),
        ({"count": 0}, "stairs.count", "count"),
        ({"count": 61}, "stairs.count", "count"),
        ({"count": None}, "stairs.count_or_riser", "count"),
        ({"count": None, "wanted_riser": 0.0}, "figures.over_zero", "wanted_riser"),
        ({"count": None, "wanted_riser": 0.01}, "stairs.count", "wanted_riser"),
        ({"tread": -1.0}, "figures.below_zero", "tread"),
        ({"nosing": 11.0}, "stairs.nosing_too_deep", "nosing"),
        ({"tread": 8.0}, "stairs.finish_too_thick", "tread"),
        ({"measured": "rough", "floor_below": 200.0}, "stairs.no_rise_left", "floor_below"),
        ({"opening": -1.0}, "figures.over_zero", "opening"),
        ({"floor_depth": -1.0}, "figures.below_zero", "floor_depth"),
    ],
)
def test_an_impossible_flight(changed: dict[str, object], id: str, field: str) -> None:
    assert refused(a_flight(**changed)) == (id, field)


@pytest.mark.parametrize(
    ("changed", "id", "field"),
    [
        ({"radius": 17.9}, "stairs.radius_too_small", "radius"),
        ({"radius": 0.0}, "figures.over_zero", "radius"),
        ({"turn": 0.0}, "stairs.turn", "turn"),
        ({"turn": 721.0}, "stairs.turn", "turn"),
        ({"count": 0}, "stairs.winders_count", "winders"),
        ({"count": 1, "turn": 180.0}, "stairs.winder_too_wide", "winders"),
        ({"walkline_from": 37.0}, "stairs.walkline_outside", "walkline_from"),
    ],
)
def test_an_impossible_turn(changed: dict[str, object], id: str, field: str) -> None:
    assert refused(a_turn(**changed)) == (id, field)


def test_winders_may_run_to_a_newel_where_they_have_no_depth() -> None:
    found = stairs.winders(
        Winders(radius=18.0, width=36.0, turn=90.0, count=3, walkline_from=12.0), NONE
    )
    assert found.narrow.depth == 0


def test_a_chord_longer_than_the_circle_is_wide() -> None:
    assert refused(lambda: stairs.jig(10, 20.1, 1)) == ("stairs.chord_too_long", "chord")
    assert stairs.jig(10, 20, 5).rise == 10


def test_more_ordinates_than_anybody_marks() -> None:
    assert refused(lambda: stairs.jig(100, 100, 0.1))[1] == "spacing"


@pytest.mark.parametrize("pitch", [0.0, -5.0, 81.0, math.nan])
def test_an_easing_from_no_rake(pitch: float) -> None:
    assert refused(lambda: stairs.easing(pitch, 12)) == ("stairs.pitch_range", "pitch")


def test_one_riser_is_no_flight_to_compare() -> None:
    assert refused(lambda: stairs.uniformity((7.5,), NONE)) == ("stairs.two_risers", "measured")


def test_one_riser_is_a_stair_without_a_tread() -> None:
    assert stairs.risers(7, 1, 1, 0.75, 0.5) == (7.25,)
    assert stairs.packing(7, 1, 1, 0.75, 0.5).treads == ()


def test_a_profile_that_says_nothing_judges_nothing() -> None:
    assert stairs.flight(Flight(rise=105, going=10.5, count=14), NONE).judged == ()


def test_a_floor_thicker_than_a_tread_is_packed_itself() -> None:
    packed = stairs.packing(105, 14, 0.75, 1.25, 0.75)
    assert packed.below == 0.5
    assert packed.above == 0
    assert min(packed.treads) >= 0


def test_a_limit_in_millimeters_is_held_in_millimeters() -> None:
    limits = Profile(id="mm", name="mm", edition="", limits={"riser": Limit(unit="mm", most=190.5)})
    (judged,) = stairs.flight(Flight(rise=105, going=10.5, count=14), limits).judged
    assert (judged.value, judged.unit, judged.within) == (pytest.approx(190.5), "mm", True)
