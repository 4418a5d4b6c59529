"""The joint through the year: how wide on the day, what the grain decides, go or wait."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.figures.air import Air
from server.core.figures.base import BadFigure
from server.core.figures.joint import Insert
from server.core.figures.joint_today import today
from server.core.figures.moisture import Species, equilibrium
from tests.core.figures.joints import ASH, DAMP, DRY, YEAR, a_joint

FIT = {"room": Air(70.0, 40.0), "wood": 8.0}


def test_fitted_in_the_middle_it_stays_between_its_least_and_most_all_year() -> None:
    found = a_joint()
    assert found.possible
    assert all(1 / 16 <= month.width_in <= 3 / 16 for month in found.months)
    assert all(one.within for one in found.judged)


@pytest.mark.parametrize(("at", "touches"), [("low_in", "narrowest_in"), ("high_in", "widest_in")])
def test_fitted_at_the_end_of_what_is_right_it_just_touches_a_limit(at: str, touches: str) -> None:
    found = a_joint(wood=8.0)
    tried = a_joint(wood=8.0, fitted_in=getattr(found, at))
    limit = 1 / 16 if at == "low_in" else 3 / 16
    assert getattr(tried, touches) == pytest.approx(limit)
    assert all(one.within for one in tried.judged)


def test_a_hair_narrower_than_right_is_too_narrow_in_the_dampest_month() -> None:
    tried = a_joint(wood=8.0, fitted_in=a_joint(wood=8.0).low_in - 0.001)
    assert [one.what for one in tried.judged if not one.within] == ["narrowest"]


def test_wood_that_is_damp_on_the_day_is_fitted_tight_and_dry_wood_open() -> None:
    assert a_joint(wood=11.0).fit_in < a_joint(wood=8.0).fit_in < a_joint(wood=6.0).fit_in


def test_the_season_closes_it_by_the_movement_from_the_driest_month_to_the_dampest() -> None:
    found = a_joint()
    points = equilibrium(70, 60) - equilibrium(70, 30)
    assert found.season_in == pytest.approx(6 * 0.00274 * points)
    assert (found.driest, found.dampest) == (0, 5)
    assert found.widest_in - found.narrowest_in == pytest.approx(found.season_in)


def test_held_along_its_middle_half_the_movement_comes_at_the_joint() -> None:
    assert a_joint(held="middle").season_in == pytest.approx(a_joint().season_in / 2)


def test_quarter_sawn_moves_less_than_flat_sawn_and_along_the_grain_hardly_at_all() -> None:
    flat, quarter, along = (a_joint(grain=g).season_in for g in ("flat", "quarter", "along"))
    assert along < 0.003 < quarter < flat


def test_a_piece_too_wide_for_its_joint_has_no_right_width_and_says_how_wide_it_may_be() -> None:
    wide = a_joint(width_in=12.0)
    assert not wide.possible
    assert wide.widest_piece_in is not None
    assert wide.widest_piece_in < 12
    just = a_joint(width_in=wide.widest_piece_in)
    assert just.low_in == pytest.approx(just.high_in)


def test_a_room_that_never_changes_takes_any_piece() -> None:
    assert a_joint(months=(DRY,) * 12).widest_piece_in is None


def test_the_wood_is_as_the_meter_says_else_as_the_room_else_as_the_year() -> None:
    assert (a_joint(**FIT).taken, a_joint(**FIT).moisture) == ("meter", 8.0)
    room = a_joint(room=Air(70.0, 40.0))
    assert (room.taken, room.moisture) == ("room", equilibrium(70, 40))
    year = a_joint()
    mean = sum(equilibrium(air.fahrenheit, air.humidity) for air in YEAR) / 12
    assert (year.taken, year.moisture) == ("year", pytest.approx(mean))


def test_a_meter_in_cold_wood_reads_low_and_is_put_right() -> None:
    cold = a_joint(wood=8.0, wood_fahrenheit=50.0)
    assert (cold.moisture, cold.corrected) == (9.0, 1.0)
    assert a_joint(wood=8.0, room=Air(60.0, 40.0)).moisture == 8.5


def test_outside_6_to_14_percent_it_is_worked_out_and_says_so() -> None:
    cold_winter = (Air(70.0, 20.0), *YEAR[1:])
    assert a_joint().valid
    assert not a_joint(months=cold_winter).valid
    assert a_joint(months=cold_winter).season_in > a_joint().season_in


def test_an_insert_is_pressed_most_in_the_dampest_month() -> None:
    insert = Insert(thick_in=0.25, least=10, most=60)
    found = a_joint(insert=insert)
    loosest, tightest = found.judged[-2:]
    assert (loosest.what, tightest.what) == ("loosest", "tightest")
    assert loosest.value == pytest.approx(100 * (0.25 - found.widest_in) / 0.25)
    assert loosest.value < tightest.value


def test_an_insert_thinner_than_the_widest_joint_falls_out_of_it() -> None:
    found = a_joint(insert=Insert(thick_in=0.1, least=0, most=80))
    assert found.judged[-2].value < 0
    assert not found.judged[-2].within


@given(
    width=st.floats(0.5, 40), wood=st.floats(4, 20), humidity=st.floats(0, 90), by=st.floats(0, 10)
)
def test_damper_air_never_widens_a_joint(
    width: float, wood: float, humidity: float, by: float
) -> None:
    dry, damp = Air(70.0, humidity), Air(70.0, humidity + by)
    found = a_joint(width_in=width, wood=wood, months=(dry, *[DAMP] * 10, damp), fitted_in=0.125)
    assert found.months[-1].width_in <= found.months[0].width_in + 1e-9


@given(width=st.floats(0.5, 9), wood=st.floats(5, 14))
def test_any_width_between_the_two_ends_stays_right_all_year(width: float, wood: float) -> None:
    found = a_joint(width_in=width, wood=wood)
    if found.possible:
        tried = a_joint(width_in=width, wood=wood, fitted_in=max(found.fit_in, 0))
        assert all(one.within for one in tried.judged) or found.fit_in < 0


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"width_in": 0.0}, "width"),
        ({"width_in": 241.0}, "width"),
        ({"least_in": -0.1}, "least"),
        ({"most_in": 1 / 16}, "most"),
        ({"fitted_in": -0.01}, "fitted"),
        ({"wood": 1.0}, "wood"),
        ({"carrier": 61.0}, "carrier"),
        ({"room": Air(70.0, 140.0)}, "humidity"),
        ({"room": Air(200.0, 40.0)}, "air"),
        ({"months": (*YEAR[:11], Air(70.0, 101.0))}, "humidity_12"),
        ({"wood_fahrenheit": 300.0}, "wood_fahrenheit"),
        ({"insert": Insert(thick_in=0.0, least=0, most=50)}, "insert"),
        ({"insert": Insert(thick_in=0.2, least=50, most=50)}, "insert_most"),
        ({"species": Species(id="", name="", radial=0.0, tangential=0.003)}, "species"),
        ({"species": Species(id="", name="", radial=0.002, tangential=0.3)}, "species"),
    ],
)
def test_what_no_joint_comes_from_is_refused_with_its_field(
    said: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadFigure) as refused:
        a_joint(**said)
    assert refused.value.field == field


def test_it_is_go_when_room_and_meter_are_right() -> None:
    found = today(a_joint(**FIT, carrier=9.0))
    assert (found.answer, found.against) == ("go", ())


@pytest.mark.parametrize(
    "said", [{}, {"wood": 8.0}, {"room": Air(70.0, 40.0)}], ids=["nothing", "no air", "no meter"]
)
def test_without_air_and_meter_nobody_can_say(said: dict[str, Any]) -> None:
    assert today(a_joint(**said)).answer == "read"


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ({"room": Air(59.0, 40.0)}, "room_air"),
        ({"room": Air(70.0, 51.0)}, "room_humidity"),
        ({"wood": 10.0}, "wood_room"),
        ({"carrier": 10.5}, "wood_carrier"),
    ],
)
def test_it_is_wait_when_one_of_them_is_not(said: dict[str, Any], what: str) -> None:
    found = today(a_joint(**{**FIT, **said}))
    assert found.answer == "wait"
    assert what in [one.what for one in found.against]


def test_narrow_wood_may_be_4_points_from_what_carries_it() -> None:
    assert today(a_joint(**FIT, carrier=11.9, width_in=2.5)).answer == "go"
    assert today(a_joint(**FIT, carrier=12.1, width_in=2.5)).answer == "wait"
    assert today(a_joint(**FIT, carrier=10.1, width_in=3.0)).answer == "wait"


def test_a_joint_that_cannot_work_is_wait_whatever_the_meter_says() -> None:
    assert today(a_joint(**FIT, width_in=12.0)).answer == "wait"


def test_the_species_says_which_coefficient_goes() -> None:
    assert (ASH.coefficient("flat"), ASH.coefficient("quarter")) == (0.00274, 0.00169)
