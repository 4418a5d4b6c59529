"""Rail stand-offs against plain trigonometry done another way, and what must hold of any rail.

The other way turns the rail with complex numbers and looks for the tread and the bay by walking
along the floor, where the figure itself divides.
"""

import cmath
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.core.figures.standoffs import RailOnWall, StandOff, stand_offs
from server.core.figures.studs import On, Studs
from tests.core.figures.stacks import a_rail

every_time_the_same = settings(derandomize=True, max_examples=150, deadline=None, database=None)
HAIR = 1e-6


def test_on_a_slope_of_three_to_four_all_can_be_worked_out_by_hand() -> None:
    """7 1/2 by 10 is 3-4-5: 12 1/2 along the rake for each tread."""
    figure = stand_offs(a_rail(first=12.5, last=12.5, most=137.5))
    assert figure.rail_long == pytest.approx(13 * 12.5)
    assert figure.middle_under_top == pytest.approx(0.75 * 5 / 4)
    low, high = figure.stand_offs
    assert (low.along_floor, low.tread) == (pytest.approx(10), 2)
    assert low.above_tread == pytest.approx(36 - 0.9375)
    assert (high.along_floor, high.tread) == (pytest.approx(120), 13)
    assert high.above_floor == pytest.approx(13 * 7.5 + 36 - 0.9375)


def test_a_rail_at_36_in_bears_the_usual_question() -> None:
    """200 lb at 3 1/2 in is 700 in·lb."""
    assert stand_offs(a_rail()).stand_offs[0].moment_in_lb == pytest.approx(700)


@st.composite
def rails(draw: st.DrawFn) -> RailOnWall:
    def inches(least: float, most: float) -> float:
        return draw(st.integers(round(least * 16), round(most * 16))) / 16

    return a_rail(
        rise=inches(4, 9),
        tread=inches(7, 14),
        treads=draw(st.integers(4, 18)),
        rail_height=inches(30, 40),
        rail_deep=inches(1, 3),
        first=inches(0, 10),
        last=inches(0, 10),
        most=inches(4, 60),
        past_bottom=inches(-3, 12),
        past_top=inches(-3, 12),
        floor=inches(0, 2),
        studs=Studs(spacing=inches(8, 24), first=inches(-30, 30)),
    )


@every_time_the_same
@given(rails())
def test_spacing_is_never_over_the_most(rail: RailOnWall) -> None:
    figure = stand_offs(rail)
    along = [one.along_rake for one in figure.stand_offs]
    apart = [after - before for before, after in pairwise(along)]
    assert max(apart) <= rail.most + HAIR
    assert max(apart) - min(apart) < HAIR
    fewer = len(apart) - 1
    assert fewer == 0 or sum(apart) / fewer > rail.most - HAIR


@every_time_the_same
@given(rails())
def test_first_and_last_and_spacings_are_the_rail(rail: RailOnWall) -> None:
    figure = stand_offs(rail)
    spacings = figure.spacing * (len(figure.stand_offs) - 1)
    assert rail.first + spacings + rail.last == pytest.approx(figure.rail_long)


@every_time_the_same
@given(rails())
def test_every_stand_off_is_where_turning_the_rail_puts_it(rail: RailOnWall) -> None:
    turn = cmath.rect(1, cmath.phase(complex(rail.tread, rail.rise)))
    # The rail's middle lies square to the slope under its top, which is plumb over the nosings.
    start = complex(0, rail.rise + rail.rail_height) - rail.past_bottom * turn
    start -= complex(0, 1) * turn * rail.rail_deep / 2
    for one in stand_offs(rail).stand_offs:
        # Move along the rail until plumb over the figure's own place.
        along = (one.along_floor - start.real) / turn.real
        assert (start + along * turn).imag == pytest.approx(one.above_floor)
        assert one.along_floor == pytest.approx((one.along_rake - rail.past_bottom) * turn.real)


@every_time_the_same
@given(rails())
def test_heights_hang_together(rail: RailOnWall) -> None:
    for one in stand_offs(rail).stand_offs:
        tread, edge = 0, 0.0
        while tread <= rail.treads and one.along_floor >= edge - HAIR / 1000:
            tread, edge = tread + 1, edge + rail.tread
        assert one.tread == tread
        assert one.above_tread == pytest.approx(one.above_floor - tread * rail.rise)
        assert one.band_low < one.above_floor + rail.floor < one.band_high


@every_time_the_same
@given(rails())
def test_what_stands_behind_is_found_again_by_walking_from_stud_to_stud(rail: RailOnWall) -> None:
    studs = rail.studs
    for one in stand_offs(rail).stand_offs:
        assert found_behind(one, studs) == (one.place.on, one.place.no)


def found_behind(one: StandOff, studs: Studs) -> tuple[On, int]:
    no = 1 + math.floor((-400 - studs.first) / studs.spacing)
    while True:
        left, right = one.along_floor - studs.rod_wide / 2, one.along_floor + studs.rod_wide / 2
        face_left, face_right = studs.middle(no) - studs.wide / 2, studs.middle(no) + studs.wide / 2
        if face_left - HAIR / 1000 <= left and right <= face_right + HAIR / 1000:
            return On.STUD, no
        if left < face_right - HAIR / 1000 and right > face_left + HAIR / 1000:
            return On.EDGE, no
        next_left = studs.middle(no + 1) - studs.wide / 2
        if face_right - HAIR / 1000 <= left and right <= next_left + HAIR / 1000:
            return On.BAY, no
        no += 1
