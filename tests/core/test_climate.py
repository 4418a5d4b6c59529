"""Readings: the newest, the average over days, and whether a series has stopped changing."""

from fractions import Fraction

import pytest

from server.core.climate import air_of, average, moving, newest, place_of, series, settled
from server.core.drying import dry, stuff_of, waits_behind, wet_in_air
from server.core.world.network import forecast
from tests.core.warnings.finding import NOW
from tests.core.warnings.readings import CREW, a_house, read, wet_wall
from tests.worlds import CLOCK_DAY, World, on

HOUSE = a_house()


def of_wood(*values: tuple[str, str], where: str = "Newel") -> World:
    world = HOUSE
    for value, at in values:
        world = read(world, "wood", value, at, where=where)
    return world


def test_places_of_one_name_for_their_air_share_it() -> None:
    snapshot = HOUSE.snapshot()
    assert air_of(snapshot, "landing") == ("landing", "stair")
    assert air_of(snapshot, "loft") == ("loft",)


def test_work_stands_where_it_says_else_where_its_detail_does() -> None:
    world = HOUSE.with_task("Lath").with_task("Bead", place_id="landing")
    snapshot = world.with_changed("Stair wall", pattern="wall-rail").snapshot()
    lath, bead = (world.snapshot().activities[id] for id in ("lath", "bead"))
    assert [place_of(world.snapshot(), a) for a in (lath, bead)] == ["stair", "landing"]
    assert [place_of(snapshot, a) for a in (lath, bead)] == [None, "landing"]


def test_the_newest_of_today_or_yesterday_counts() -> None:
    world = read(read(HOUSE, "air", 55, "Dec 2 0:00"), "air", 60, "Dec 3 7:00")
    found = newest(world.snapshot(), "stair", "air", NOW)
    assert found is not None
    assert found.value == 60
    old = read(HOUSE, "air", 55, "Dec 1 23:59")
    assert newest(old.snapshot(), "stair", "air", NOW) is None


def test_what_was_read_later_than_now_is_not_looked_at() -> None:
    world = read(HOUSE, "air", 55, "Dec 3 11:00")
    assert newest(world.snapshot(), "stair", "air", NOW) is None


def test_an_average_counts_each_day_once() -> None:
    world = HOUSE
    for value, at in ((40, "Dec 1 8:00"), (40, "Dec 1 16:00"), (60, "Dec 3 8:00")):
        world = read(world, "humidity", value, at)
    assert average(world.snapshot(), "stair", "humidity", NOW) == 50


def test_one_day_is_no_average_and_older_readings_are_not_of_the_week() -> None:
    world = read(read(HOUSE, "humidity", 40, "Nov 26 8:00"), "humidity", 60, "Dec 3 8:00")
    assert average(world.snapshot(), "stair", "humidity", NOW) is None
    assert average(world.snapshot(), "stair", "humidity", NOW, days=10) == 50


def test_the_average_of_shared_air_stands_in_where_a_place_has_none() -> None:
    world = read(HOUSE, "humidity", 40, "Dec 2 8:00", place="Landing")
    world = read(world, "humidity", 50, "Dec 3 8:00", place="Landing")
    assert average(world.snapshot(), "stair", "humidity", NOW) == 45
    assert average(world.snapshot(), "loft", "humidity", NOW) is None


def test_spots_are_read_apart_however_their_name_is_typed() -> None:
    world = read(of_wood(("9", "Dec 1 8:00")), "wood", 8, "Dec 2 8:00", where=" newel ")
    world = read(world, "wood", 14, "Dec 2 8:00", where="Stringer")
    found = series(world.snapshot(), "stair", "wood")
    assert [[r.value for r in spot] for spot in found] == [[9, 8], [14]]


@pytest.mark.parametrize(
    ("values", "is_settled"),
    [
        ([("9", "Dec 1 8:00")], None),
        ([("9", "Dec 1 8:00"), ("9", "Dec 3 7:59")], None),
        ([("9", "Dec 1 8:00"), ("9", "Dec 3 8:00")], True),
        ([("9", "Dec 1 8:00"), ("8.5", "Dec 3 8:00")], True),
        ([("9", "Dec 1 8:00"), ("8.4", "Dec 3 8:00")], False),
        ([("9", "Dec 1 8:00"), ("8.4", "Dec 1 12:00")], False),
        ([("14", "Nov 28 8:00"), ("9", "Dec 1 8:00"), ("9", "Dec 3 8:00")], True),
    ],
)
def test_a_series_has_settled_when_two_days_change_nothing(
    values: list[tuple[str, str]], is_settled: bool | None
) -> None:
    ((found),) = series(of_wood(*values).snapshot(), "stair", "wood")
    assert settled(found) is is_settled
    assert (moving([found]) is not None) is (is_settled is False)


def test_nothing_read_is_neither_settled_nor_moving() -> None:
    assert settled(()) is None
    assert moving(()) is None


# -- drying -------------------------------------------------------------------------------------


def test_a_coat_is_dry_when_the_waits_behind_it_are_over() -> None:
    world = wet_wall().with_wait("Base rests", CLOCK_DAY, after="Base dries")
    snapshot = world.snapshot()
    base = snapshot.activities["base-coat"]
    found = dry(snapshot, forecast(snapshot, NOW), base)
    assert [w.id for w in waits_behind(snapshot, base)] == ["base-dries", "base-rests"]
    assert (found.at, found.wait and found.wait.id) == (on("Dec 9 15:30"), "base-rests")


def test_readings_that_still_change_put_it_off_for_two_days_after_the_newest() -> None:
    world = read(read(wet_wall(), "plaster", 14, "Dec 6 8:00"), "plaster", 12, "Dec 8 8:00")
    found = dry(
        world.snapshot(),
        forecast(world.snapshot(), on("Dec 9")),
        world.snapshot().activities["base-coat"],
    )
    assert found.moves is not None
    assert (found.at, found.moves.value) == (on("Dec 10 8:00"), Fraction(12))


def test_the_air_of_a_place_takes_the_water_of_all_wet_work_in_it_but_glue_and_grout() -> None:
    world = (
        wet_wall()
        .with_task("Patch", crew=CREW, wet=True, place_id="landing")
        .with_task("Grout", crew=CREW, wet=True, stuff="grout")
        .with_task("Loft coat", crew=CREW, wet=True, place_id="loft")
    )
    found = wet_in_air(world.snapshot(), "stair")
    assert [a.id for a in found] == ["base-coat", "finish-coat", "patch"]


def test_the_stuff_is_said_by_the_work_before_the_wait_behind_it() -> None:
    world = wet_wall().with_changed("Base dries", stuff="lime")
    base = world.snapshot().activities["base-coat"]
    assert stuff_of(world.snapshot(), base) == "lime"
    cement = world.with_changed("Base coat", stuff="cement").snapshot()
    assert stuff_of(cement, cement.activities["base-coat"]) == "cement"
