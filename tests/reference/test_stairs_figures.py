"""Stairs against numbers that others wrote down, and arcs worked out another way."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from server.core.figures import stairs
from server.core.figures.base import Judged, Profile
from server.core.figures.stairs import Flight, Winders
from server.data.limits import all_profiles

IRC, K = all_profiles()


def held(found: tuple[Judged, ...], what: str) -> Judged:
    return next(one for one in found if one.what == what)


def a_flight(profile: Profile = IRC, **changed: float | int | str | None) -> stairs.FlightFigure:
    asked = {"rise": 105.0, "going": 10.5, "count": 14, "nosing": 1.0, **changed}
    return stairs.flight(Flight(**asked), profile)  # type: ignore[arg-type]


# -- the classic mistake ------------------------------------------------------------------------


def test_treads_of_one_inch_on_floors_of_three_quarters_move_the_ends_a_quarter_each() -> None:
    rough = stairs.risers(105, 14, 1, 0.75, 0.75)
    assert rough == (7.25, *[7.5] * 12, 7.75)


def test_such_a_rough_stair_is_beyond_both_what_a_finished_and_what_a_built_one_may_differ() -> (
    None
):
    found = a_flight(tread=1.0, floor_below=0.75, floor_above=0.75)
    assert found.rough_difference == pytest.approx(0.5)
    as_finished = held(found.judged, "rough_as_finished")
    as_cut = held(found.judged, "rough_as_cut")
    assert (as_finished.most, as_finished.within) == (0.375, False)
    assert (as_cut.most, as_cut.within, as_cut.tag) == (0.25, False, "M")
    assert (as_cut.source, as_cut.section) == ("29 CFR 1926", "1926.1052(a)(3)")


def test_packing_the_treads_a_quarter_makes_it_even() -> None:
    packed = stairs.packing(105, 14, 1, 0.75, 0.75)
    assert (packed.below, packed.above) == (0, 0)
    assert packed.treads == pytest.approx([0.25] * 13)
    assert packed.riser == pytest.approx(7.5)


# -- limits, on both sides of each --------------------------------------------------------------


@pytest.mark.parametrize(("riser", "within"), [(7.75, True), (7.75 + 1 / 64, False), (4.0, True)])
def test_irc_risers_are_at_most_seven_and_three_quarters(riser: float, within: bool) -> None:
    found = a_flight(rise=14 * riser)
    assert held(found.judged, "riser").within is within
    assert held(found.judged, "riser").section == "R311.7.5.1"


@pytest.mark.parametrize(("going", "within"), [(10.0, True), (10 - 1 / 64, False)])
def test_irc_treads_are_at_least_ten_nosing_to_nosing(going: float, within: bool) -> None:
    assert held(a_flight(going=going).judged, "tread").within is within


@pytest.mark.parametrize(
    ("nosing", "within"), [(0.75, True), (1.25, True), (0.5, False), (1.5, False)]
)
def test_irc_nosings_are_three_quarters_to_one_and_a_quarter(nosing: float, within: bool) -> None:
    assert held(a_flight(nosing=nosing).judged, "nosing").within is within


def test_a_tread_of_eleven_needs_no_nosing() -> None:
    assert not [j for j in a_flight(going=11, nosing=0).judged if j.what == "nosing"]
    assert not held(a_flight(going=10.9, nosing=0).judged, "nosing").within


@pytest.mark.parametrize(("rise", "within"), [(151.0, True), (151.5, False)])
def test_irc_landings_are_at_most_twelve_feet_seven_apart(rise: float, within: bool) -> None:
    assert held(a_flight(rise=rise, count=20).judged, "rise_between_landings").within is within


@pytest.mark.parametrize(
    ("mm", "within"), [(150, True), (220, True), (149.5, False), (220.5, False)]
)
def test_document_k_rises_are_150_to_220_mm(mm: float, within: bool) -> None:
    found = a_flight(K, rise=14 * mm / 25.4)
    judged = held(found.judged, "riser")
    assert (judged.unit, judged.within) == ("mm", within)


@pytest.mark.parametrize(("mm", "within"), [(220, True), (300, True), (219, False), (301, False)])
def test_document_k_goings_are_220_to_300_mm(mm: float, within: bool) -> None:
    assert held(a_flight(K, going=mm / 25.4).judged, "tread").within is within


def test_document_k_pitches_are_at_most_42_degrees() -> None:
    going = 10.0
    at_42 = going * math.tan(math.radians(42))
    assert held(a_flight(K, rise=14 * at_42, going=going).judged, "pitch").within
    assert not held(a_flight(K, rise=14 * (at_42 + 0.01), going=going).judged, "pitch").within


@pytest.mark.parametrize(
    ("rise", "going", "within"), [(165, 220, True), (200, 300, True), (150, 245, False),
                                  (205, 300, False)]
)  # fmt: skip
def test_document_k_wants_twice_rise_and_going_550_to_700(
    rise: float, going: float, within: bool
) -> None:
    found = a_flight(K, rise=14 * rise / 25.4, going=going / 25.4)
    assert held(found.judged, "twice_riser_and_tread").within is within


def test_measured_risers_may_differ_three_eighths_and_no_more() -> None:
    at_most = stairs.uniformity((7.5, 7.875, 7.6), IRC)
    beyond = stairs.uniformity((7.5, 7.9, 7.6), IRC)
    assert held(at_most.judged, "riser_variation").within
    assert not held(beyond.judged, "riser_variation").within
    assert (beyond.largest_at, beyond.smallest_at) == (2, 1)


@pytest.mark.parametrize(("opening", "within"), [(128.0, True), (127.0, False)])
def test_headroom_is_held_against_six_foot_eight(opening: float, within: bool) -> None:
    """7 1/2 on 10 1/2 falls 5/7 for each inch: 80 in under 11 in of floor needs 127.4 in."""
    found = a_flight(opening=opening, floor_depth=11.0)
    assert found.least_opening == pytest.approx((80 + 11) * 10.5 / 7.5)
    assert held(found.judged, "headroom").within is within


def test_past_the_first_nosing_the_head_is_over_the_floor() -> None:
    assert a_flight(opening=300.0, floor_depth=11.0).headroom == pytest.approx(105 - 11)


@pytest.mark.parametrize(("walkline", "within"), [(25.63, True), (25.62, False)])
def test_winders_are_ten_inches_at_the_walkline(walkline: float, within: bool) -> None:
    """Two nosings 22.5° apart are 10 in apart where they are 10 / 2 sin 11.25° = 25.629 out."""
    narrow = walkline - 12
    found = stairs.winders(
        Winders(radius=narrow + 18, width=36, turn=90, count=4, walkline_from=12), IRC
    )
    assert found.least_walkline_radius == pytest.approx(25.629, abs=5e-4)
    assert held(found.judged, "winder_walkline").within is within


@pytest.mark.parametrize(("narrow", "within"), [(15.4, True), (15.3, False), (0.0, False)])
def test_winders_are_six_inches_at_their_narrow_end(narrow: float, within: bool) -> None:
    found = stairs.winders(
        Winders(radius=narrow + 18, width=36, turn=90, count=4, walkline_from=12), IRC
    )
    assert held(found.judged, "winder_narrow").within is within


# -- arcs, worked out another way -----------------------------------------------------------------

radii = st.floats(2, 400)
turns = st.floats(5, 350)


@given(radii, turns, st.floats(0, 200))
def test_a_developed_length_is_the_sum_of_many_short_straight_pieces(
    radius: float, turn: float, climb: float
) -> None:
    found = stairs.developed(radius, turn, climb)
    pieces = 2000
    angle = math.radians(turn)
    points = [
        (radius * math.cos(angle * n / pieces), radius * math.sin(angle * n / pieces),
         climb * n / pieces)
        for n in range(pieces + 1)
    ]  # fmt: skip
    assert found.length == pytest.approx(sum(map(math.dist, points, points[1:])), rel=1e-5)


@given(st.floats(6, 200), turns, st.floats(1, 150))
def test_a_bend_is_the_circle_through_three_points_close_together(
    radius: float, turn: float, climb: float
) -> None:
    found = stairs.developed(radius, turn, climb)
    per = climb / math.radians(turn)
    a, b, c = ((radius * math.cos(t), radius * math.sin(t), per * t) for t in (-0.01, 0.0, 0.01))
    sides = math.dist(a, b), math.dist(b, c), math.dist(a, c)
    half = sum(sides) / 2
    area = math.sqrt(max(0.0, half * math.prod(half - side for side in sides)))
    assume(area > 1e-6)
    assert found.bend == pytest.approx(math.prod(sides) / (4 * area), rel=1e-2)


@given(st.floats(5, 500), st.floats(0.05, 1.0), st.floats(0.02, 0.5))
def test_ordinates_of_a_jig_by_angles_instead_of_squares(
    radius: float, share: float, spacing: float
) -> None:
    chord = 2 * radius * share
    found = stairs.jig(radius, chord, chord * spacing)
    at_end = radius * math.cos(math.asin(min(1.0, chord / 2 / radius)))
    for one in found.ordinates:
        off = radius * math.cos(math.asin(min(1.0, one.along / radius))) - at_end
        assert one.off == pytest.approx(off, abs=1e-6 * radius)
    assert found.ordinates[-1].along == pytest.approx(chord / 2)


def test_a_jig_of_known_numbers() -> None:
    """A 3-4-5 triangle: radius 50 over a chord of 80 stands 30 off the center and rises 20."""
    found = stairs.jig(50, 80, 40)
    assert found.rise == pytest.approx(20)
    assert [one.off for one in found.ordinates] == pytest.approx([20, 0])


@given(st.floats(1, 79), st.floats(1, 60))
def test_an_easing_touches_the_rake_and_the_level_line_where_it_says(
    pitch: float, radius: float
) -> None:
    """The center stands a radius below the level line over one end; the rake is a radius off."""
    found = stairs.easing(pitch, radius)
    angle = math.radians(pitch)
    on_rake = (-found.tangent * math.cos(angle), -found.tangent * math.sin(angle))
    on_level = (found.tangent, 0.0)
    center = (found.tangent, -radius)
    assert math.dist(on_rake, center) == pytest.approx(radius)
    assert (on_level[0] - on_rake[0], on_level[1] - on_rake[1]) == pytest.approx(
        (found.run, found.climb)
    )
    assert math.dist((0, 0), center) - radius == pytest.approx(found.rise_off_corner)


@given(radii, st.floats(1, 170))
def test_a_winder_is_as_deep_as_its_nosings_are_apart(radius: float, each: float) -> None:
    angle = math.radians(each)
    ends = (radius, 0.0), (radius * math.cos(angle), radius * math.sin(angle))
    assert stairs.depth_at(radius, angle).depth == pytest.approx(math.dist(*ends))


# -- always -------------------------------------------------------------------------------------

rises = st.floats(20, 200)
counts = st.integers(1, 24)
thick = st.floats(0, 2.5)


@given(rises, counts, thick, thick, thick)
def test_rough_and_finish_together_are_the_finished_stair(
    rise: float, count: int, tread: float, below: float, above: float
) -> None:
    assume(rise / count > 6)
    surfaces = stairs.rough_surfaces(rise, count, tread, below, above)
    tops = [*(tread for _ in range(count - 1)), above]
    finished = [rough + on_top - below for rough, on_top in zip(surfaces, tops, strict=True)]
    assert finished == pytest.approx([k * rise / count for k in range(1, count + 1)])
    assert sum(stairs.risers(rise, count, tread, below, above)) == pytest.approx(surfaces[-1])


@given(rises, st.integers(2, 24), thick, thick, thick)
def test_packed_every_riser_is_alike_and_nothing_is_taken_off(
    rise: float, count: int, tread: float, below: float, above: float
) -> None:
    assume(rise / count > 6)
    packed = stairs.packing(rise, count, tread, below, above)
    surfaces = stairs.rough_surfaces(rise, count, tread, below, above)
    laid = (*packed.treads, packed.above)
    heights = [packed.below, *(s + p for s, p in zip(surfaces, laid, strict=True))]
    assert [high - low for low, high in pairwise(heights)] == pytest.approx(
        [packed.riser] * count, abs=1e-6
    )
    assert min(heights[0], *laid) >= 0


@given(rises, st.floats(5, 9))
def test_no_other_count_comes_nearer_to_the_riser_wanted(rise: float, wanted: float) -> None:
    found = a_flight(rise=rise, count=None, wanted_riser=wanted)
    for other in (found.count - 1, found.count + 1):
        if other >= 1:
            assert abs(found.riser - wanted) <= abs(rise / other - wanted) + 1e-9


@given(rises, counts, thick, thick)
def test_from_rough_floor_to_rough_floor_the_same_stair_comes_out(
    rise: float, count: int, below: float, above: float
) -> None:
    rough_rise = rise - above + below
    assume(rough_rise > 1)
    found = a_flight(
        rise=rough_rise, count=count, measured="rough", floor_below=0.0, floor_above=0.0
    )
    assert found.total_rise == pytest.approx(rough_rise)
    if rise / count > 6:
        same = a_flight(
            rise=rough_rise, count=count, measured="rough", floor_below=below, floor_above=above
        )
        assert same.total_rise == pytest.approx(rise)
