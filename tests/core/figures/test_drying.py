"""How long wet work waits: by the air where it dries, by the calendar where it cures."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.figures.air import GOOD, Air, drying_power
from server.core.figures.base import BadFigure
from server.core.figures.drying import Read
from server.core.figures.drying_bases import BASES, STAGES, base_of
from server.core.particulars import STUFFS
from server.core.wanted_air import WANTED
from tests.core.figures.joints import a_wait

DAMP = Air(60.0, 75.0)
CURES = ("lime", "cement")


def test_5_mm_of_gypsum_plaster_dries_in_a_week_of_good_air() -> None:
    found = a_wait(thick_in=5 / 25.4)
    assert (found.days, found.power) == (pytest.approx(7), 1.0)


def test_twice_as_thick_takes_twice_as_long() -> None:
    one, two = a_wait(thick_in=0.25).days, a_wait(thick_in=0.5).days
    assert one is not None
    assert two == pytest.approx(2 * one)


def test_in_other_air_it_takes_longer_by_what_that_air_dries_less() -> None:
    good, damp = a_wait().days, a_wait(air=DAMP).days
    assert good is not None
    assert damp == pytest.approx(good / drying_power(DAMP))


@pytest.mark.parametrize("stuff", CURES)
@pytest.mark.parametrize("stage", STAGES)
def test_hot_dry_air_hurries_nothing_that_cures(stuff: str, stage: str) -> None:
    cool, hot = (a_wait(stuff=stuff, stage=stage, air=air) for air in (DAMP, Air(95.0, 15.0)))
    assert (cool.low, cool.days, cool.high) == (hot.low, hot.days, hot.high)
    assert cool.power is None
    assert {one.what for one in hot.judged if not one.within} == {"air", "humidity"}


@pytest.mark.parametrize("stuff", CURES)
def test_what_cures_is_kept_damp_for_a_while(stuff: str) -> None:
    assert a_wait(stuff=stuff).base.damp > 0


def test_lime_too_cold_is_said() -> None:
    found = a_wait(stuff="lime", air=Air(45.0, 60.0))
    assert [one.what for one in found.judged if not one.within] == ["air"]


def test_cement_waits_48_hours_between_coats_and_7_days_after_the_last() -> None:
    """The numbers that the notes go by; nobody holds a second copy."""
    cement = WANTED["cement"]
    coat, last = (a_wait(stuff="cement", stage=stage).low for stage in STAGES)
    assert (coat, last) == (cement.between.days, cement.after.days)


@pytest.mark.parametrize("stuff", STUFFS)
@pytest.mark.parametrize("stage", STAGES)
def test_every_stuff_of_a_plan_has_a_wait_with_a_source(stuff: str, stage: str) -> None:
    found = a_wait(stuff=stuff, stage=stage)
    assert found.low is not None
    assert found.days is not None
    assert found.high is not None
    assert found.low <= found.days <= found.high
    assert found.base.source
    assert found.base.tag in ("S", "P", "M")


def test_only_what_dries_goes_by_thickness() -> None:
    assert all((one.per_mm is not None) == (one.how == "dries") for one in BASES)
    assert base_of("grout", "coat") == base_of("grout", "last")


def test_air_that_is_full_dries_nothing() -> None:
    full = a_wait(air=Air(70.0, 100.0))
    assert (full.low, full.days, full.high) == (None, None, None)
    assert (full.moisture(3), full.by_day()) == (None, ())


def test_somebodys_own_days_go_before_the_rule() -> None:
    own = a_wait(thick_in=5 / 25.4, days=14.0)
    assert own.own
    assert (own.days, own.low, own.high) == tuple(pytest.approx(n) for n in (14, 10, 20))


def test_the_plan_falls_from_the_first_reading_to_what_the_check_asks_for() -> None:
    found = a_wait(wet=12.0, dry=1.0)
    assert found.days is not None
    assert (found.moisture(0), found.moisture(found.days)) == (12.0, pytest.approx(1.0))
    assert all(later < before for before, later in pairwise(found.by_day()))


def test_readings_that_fall_as_planned_get_there_when_planned() -> None:
    planned = a_wait(wet=12.0, dry=1.0)
    readings = tuple(Read(day=day, value=planned.moisture(day) or 0) for day in (5, 2))
    assert a_wait(wet=12.0, dry=1.0, readings=readings).pace == pytest.approx(planned.days)


@pytest.mark.parametrize(
    "readings", [((2, 8),), ((2, 8), (5, 8)), ((2, 8), (5, 9))], ids=["one", "still", "rising"]
)
def test_readings_that_do_not_fall_say_no_day(readings: tuple[tuple[float, float], ...]) -> None:
    read = tuple(Read(day=day, value=value) for day, value in readings)
    assert a_wait(wet=12.0, dry=1.0, readings=read).pace is None


def test_the_newest_reading_decides_whether_it_is_dry() -> None:
    readings = (Read(day=9, value=0.9), Read(day=3, value=6))
    assert a_wait(dry=1.0, readings=readings).is_dry is True
    assert a_wait(dry=1.0, readings=readings[1:]).is_dry is False
    assert a_wait(dry=1.0).is_dry is None
    assert a_wait(readings=readings).is_dry is None


@given(st.floats(40, 100), st.floats(5, 85), st.floats(0.05, 3))
def test_drier_air_never_makes_it_longer(fahrenheit: float, humidity: float, thick: float) -> None:
    here = a_wait(air=Air(fahrenheit, humidity), thick_in=thick).days
    drier = a_wait(air=Air(fahrenheit, humidity - 5), thick_in=thick).days
    assert here is None or (drier is not None and drier <= here)


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"stuff": "butter"}, "stuff"),
        ({"air": Air(70.0, 140.0)}, "humidity"),
        ({"air": Air(-20.0, 40.0)}, "air"),
        ({"thick_in": 0.0}, "thick"),
        ({"thick_in": 7.0}, "thick"),
        ({"days": 0.0}, "days"),
        ({"days": 1000.0}, "days"),
        ({"wet": 0.0}, "wet"),
        ({"dry": 101.0}, "dry"),
        ({"wet": 5.0, "dry": 5.0}, "dry"),
        ({"readings": (Read(day=-1, value=5),)}, "readings"),
        ({"readings": (Read(day=1, value=0),)}, "readings"),
    ],
)
def test_what_no_plan_comes_from_is_refused_with_its_field(
    said: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadFigure) as refused:
        a_wait(**said)
    assert refused.value.field == field


def test_good_air_is_70_f_and_50_percent() -> None:
    assert (GOOD.fahrenheit, GOOD.humidity) == (70, 50)
