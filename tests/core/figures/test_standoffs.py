"""Rail stand-offs: where each stands, what waits behind the wall, how long its rod is."""

from typing import Any

import pytest

from server.core.figures.base import BadFigure, Limit, Profile
from server.core.figures.standoffs import StandOffFigure, stand_offs
from server.core.figures.studs import On, Studs, place_on
from tests.core.figures.stacks import a_rail

LIMITS = Profile(
    id="test",
    name="Test figures",
    edition="",
    limits={
        "handrail_height": Limit(unit="in", least=34, most=38, section="1.2", tag="S"),
        "handrail_clearance": Limit(unit="mm", least=38, section="1.3", tag="M"),
    },
)


def placed(**more: Any) -> StandOffFigure:
    return stand_offs(a_rail(**more))


def refused(**more: Any) -> tuple[str, str | None]:
    with pytest.raises(BadFigure) as why:
        placed(**more)
    return why.value.id, why.value.field


def test_spacing_is_even_and_no_wider_than_the_most() -> None:
    figure = placed(most=32)
    assert figure.rail_long == pytest.approx(162.5)
    assert (len(figure.stand_offs), figure.spacing) == (6, pytest.approx(29.3))


def test_a_most_that_fits_exactly_takes_no_stand_off_more() -> None:
    assert len(placed(most=29.3).stand_offs) == 6
    assert len(placed(most=29.299).stand_offs) == 7


def test_two_ends_that_meet_are_one_stand_off() -> None:
    figure = placed(treads=1, first=6.25, last=6.25)
    assert [one.along_rake for one in figure.stand_offs] == [6.25]
    assert figure.spacing == 0


def test_the_last_stands_its_distance_from_the_upper_end() -> None:
    figure = placed()
    assert figure.rail_long - figure.stand_offs[-1].along_rake == pytest.approx(8)


def test_a_rail_past_the_lowest_nosing_stands_over_the_floor() -> None:
    first = placed(past_bottom=12, first=2).stand_offs[0]
    assert (first.along_floor, first.tread) == (pytest.approx(-8), 0)
    assert first.above_tread == first.above_floor


def test_a_rail_past_the_top_stands_over_the_floor_above() -> None:
    last = placed(past_top=12, last=2).stand_offs[-1]
    assert (last.tread, last.along_floor) == (14, pytest.approx(138))


@pytest.mark.parametrize(
    ("along", "tread"), [(0.0, 1), (9.99, 1), (10.0, 2), (10.01, 2), (129.9, 13), (130.0, 14)]
)
def test_over_a_nosing_begins_its_tread(along: float, tread: int) -> None:
    assert placed(first=along * 1.25, last=0).stand_offs[0].tread == tread


def test_the_band_is_measured_from_the_rough_floor() -> None:
    one = placed(floor=0.75, cover=2, height_within=0.25).stand_offs[0]
    assert one.band_low == pytest.approx(one.above_floor + 0.75 - 2.25)
    assert one.band_high == pytest.approx(one.above_floor + 0.75 + 2.25)


def test_a_rod_goes_through_board_plaster_and_clearance_to_the_middle_of_the_rail() -> None:
    assert placed().stand_offs[0].to_middle == pytest.approx(0.5 + 0.75 + 1.5 + 0.75)


def test_a_measured_wall_takes_the_place_of_board_and_plaster_at_its_stand_off() -> None:
    first, second, third, *_ = placed(walls=(None, 1.375)).stand_offs
    assert [one.to_middle for one in (first, second, third)] == pytest.approx([3.5, 3.625, 3.5])
    assert [one.wall_measured for one in (first, second, third)] == [False, True, False]


def test_what_a_rod_has_left_behind_the_stud_face_is_its_grip() -> None:
    figure = placed(rod=5.5, walls=(1.5,))
    assert figure.stand_offs[0].grip == pytest.approx(1.75)
    assert figure.stand_offs[1].grip == pytest.approx(2)


def test_the_shortest_grip_is_held_against_the_wanted_one() -> None:
    figure = placed(rod=5.5, grip=2, walls=(1.5,))
    (grip,) = [one for one in figure.judged if one.what == "grip"]
    assert (grip.value, grip.least, grip.within) == (pytest.approx(1.75), 2, False)
    assert figure.stand_offs[0].cut_to == pytest.approx(5.75)


def test_without_a_rod_nothing_is_said_of_its_grip() -> None:
    figure = placed()
    assert figure.stand_offs[0].grip is None
    assert not [one for one in figure.judged if one.what == "grip"]


def test_the_engineer_is_asked_for_200_lb_at_the_arm() -> None:
    assert placed().stand_offs[0].moment_in_lb == pytest.approx(700)


def test_height_and_clearance_are_held_against_the_profile_in_its_units() -> None:
    judged = {one.what: one for one in stand_offs(a_rail(), LIMITS).judged}
    height, clearance = judged["handrail_height"], judged["handrail_clearance"]
    assert (height.value, height.within, height.section) == (36, True, "1.2")
    assert (clearance.value, clearance.unit) == (pytest.approx(38.1), "mm")
    assert clearance.within


@pytest.mark.parametrize(
    ("height", "within"), [(33.9, False), (34, True), (38, True), (38.1, False)]
)
def test_the_ends_of_a_limit_are_within(height: float, within: bool) -> None:
    judged = {one.what: one for one in stand_offs(a_rail(rail_height=height), LIMITS).judged}
    assert judged["handrail_height"].within is within


def test_brackets_are_held_against_the_guidance_whatever_the_profile() -> None:
    judged = {one.what: one for one in placed(most=60).judged}
    assert not judged["bracket_spacing"].within
    assert judged["bracket_end"].within


def test_a_round_rail_is_held_by_its_diameter_another_by_what_is_around_and_across() -> None:
    profile = Profile(
        id="test",
        name="Test figures",
        edition="",
        limits={
            "rail_diameter": Limit(unit="in", least=1.25, most=2),
            "rail_perimeter": Limit(unit="in", least=4, most=6.25),
            "rail_across": Limit(unit="in", most=2.25),
        },
    )
    round_one = {one.what: one.value for one in stand_offs(a_rail(), profile).judged}
    square = stand_offs(a_rail(is_round=False, rail_deep=2, rail_wide=1.5), profile)
    other = {one.what: one.value for one in square.judged}
    assert round_one["rail_diameter"] == 1.5
    assert "rail_across" not in round_one
    assert (other["rail_perimeter"], other["rail_across"]) == (7, 2.5)
    assert "rail_diameter" not in other


@pytest.mark.parametrize(
    ("along", "on", "no"),
    [
        (3.0, On.STUD, 1),
        (3.5, On.STUD, 1),
        (3.6, On.EDGE, 1),
        (4.0, On.BAY, 1),
        (18.0, On.BAY, 1),
        (18.4, On.EDGE, 2),
        (19.0, On.STUD, 2),
        (1.0, On.BAY, 0),
        (-14.0, On.BAY, -1),
    ],
)
def test_a_rod_is_on_a_stud_at_its_edge_or_in_a_bay(along: float, on: On, no: int) -> None:
    place = place_on(Studs(spacing=16, first=3, wide=1.5, rod_wide=0.5), along)
    assert (place.on, place.no) == (on, no)
    assert place.off == pytest.approx(along - (3 + (no - 1) * 16))


@pytest.mark.parametrize(
    ("facts", "id", "field"),
    [
        ({"treads": 0}, "standoffs.treads", "treads"),
        ({"treads": 61}, "standoffs.treads", "treads"),
        ({"rise": 0}, "figures.over_zero", "rise"),
        ({"tread": -10}, "figures.over_zero", "tread"),
        ({"most": 0}, "figures.over_zero", "most"),
        ({"plaster": -0.1}, "figures.below_zero", "plaster"),
        ({"height_within": -0.1}, "figures.below_zero", "height_within"),
        ({"rail_height": float("nan")}, "figures.too_long", "rail_height"),
        ({"past_top": 1e6}, "figures.too_long", "past_top"),
        ({"first": 100, "last": 100}, "standoffs.ends_cross", "last"),
        ({"most": 0.5}, "standoffs.too_many", "most"),
        ({"walls": (None, -1)}, "figures.below_zero", "walls"),
        ({"studs": Studs(spacing=1)}, "standoffs.studs", "stud_spacing"),
        ({"studs": Studs(first=1e9)}, "figures.too_long", "first_stud"),
        ({"studs": Studs(rod_wide=2)}, "standoffs.rod_wider", "rod_wide"),
    ],
)
def test_what_makes_no_rail_is_refused_at_its_field(
    facts: dict[str, Any], id: str, field: str
) -> None:
    assert refused(**facts) == (id, field)
