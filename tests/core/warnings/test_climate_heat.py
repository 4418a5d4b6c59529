"""Heat that burns into the room."""

from typing import Any

import pytest

from server.core.heat import is_direct_fired
from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import CREW, a_house, visit, wet_wall, with_temporary
from tests.worlds import World, on

RULE = "direct-fired heat"
NAME = "Direct-fired heater"
BARE = a_house().with_task("Hang doors", crew=CREW)


def heated(world: World, name: str = NAME, **fields: Any) -> World:
    return with_temporary(world, "heat", name, **{"place_id": "stair", **fields})


AT_WORK = BARE.with_changed("Hang doors", started=on("Dec 3"))


@pytest.mark.parametrize(
    ("name", "direct"),
    [
        ("Direct-fired heater", True),
        ("direct fired heater, propane", True),
        ("Torpedo heater", True),
        ("Salamander", True),
        ("Indirect-fired heater", False),
        ("indirect fired, flue outside", False),
        ("Electric heater", False),
        ("Heater", False),
    ],
)
def test_what_it_is_called_says_whether_it_burns_into_the_room(name: str, direct: bool) -> None:
    (heater,) = heated(BARE, name).snapshot().temporary.values()
    assert is_direct_fired(heater) is direct


def test_it_is_a_danger_where_people_work() -> None:
    found = one(RULE, heated(AT_WORK))
    assert (found.bad, found.activity_ids, found.person_id) == (
        "danger",
        ("hang-doors",),
        "rufus-orme",
    )


@pytest.mark.parametrize(("day", "fires"), [("Dec 3", True), ("Dec 4", True), ("Dec 5", False)])
def test_people_who_come_by_the_next_working_day_are_there(day: str, fires: bool) -> None:
    assert bool(of(RULE, heated(visit(BARE, "Hang doors", day)))) is fires


def test_over_a_weekend_the_next_working_day_is_monday() -> None:
    world = heated(visit(BARE, "Hang doors", "Dec 8"))
    assert one(RULE, world, on("Dec 5 9:00"))
    assert not of(RULE, world, on("Dec 4 9:00"))


def test_in_a_room_with_nobody_and_nothing_wet_it_is_no_warning() -> None:
    assert not of(RULE, heated(BARE))


def test_a_coat_that_is_not_dry_there_is_lost_work() -> None:
    found = one(RULE, heated(wet_wall()))
    assert (found.bad, found.activity_ids) == ("lost work", ("base-coat",))
    assert not of(RULE, heated(wet_wall()), on("Dec 9"))


def test_a_finished_face_that_lies_open_is_lost_work() -> None:
    done = {"started": on("Dec 1"), "finished": on("Dec 2")}
    world = a_house().with_layer("Oak", finished=True).with_task("Panel", puts_in="Oak", **done)
    assert one(RULE, heated(world)).layer_ids == ("oak",)
    assert not of(RULE, heated(world.with_changed("Oak", finished=False)))
    assert not of(RULE, heated(world.with_task("Wrap", covers="Oak", **done)))


@pytest.mark.parametrize(
    "fields",
    [{"taken_out": on("Dec 3")}, {"put_in": None}, {"place_id": "loft"}],
    ids=["out", "not in", "in other air"],
)
def test_one_that_does_not_burn_there_is_no_warning(fields: dict[str, Any]) -> None:
    assert not of(RULE, heated(AT_WORK, **fields))


def test_one_in_the_next_room_burns_into_the_same_air() -> None:
    assert one(RULE, heated(AT_WORK, place_id="landing"))


def test_where_nobody_said_where_it_stands_it_may_stand_anywhere() -> None:
    assert one(RULE, heated(AT_WORK, place_id=None))
    assert one(RULE, heated(AT_WORK, place_id=None, detail_id="stair-wall"))


def test_a_shore_of_that_name_is_no_heater() -> None:
    assert not of(RULE, with_temporary(AT_WORK, "shore", NAME, place_id="stair"))


@pytest.mark.parametrize("world", [AT_WORK, wet_wall()], ids=["people", "wet"])
def test_taking_it_out_mends_it(world: World) -> None:
    found = one(RULE, heated(world))
    assert len(commands(found)) == 1
    assert all(RULE not in left for left in mended(heated(world), found))


def test_its_identity_changes_with_who_is_there_and_not_with_the_clock() -> None:
    world = heated(AT_WORK)
    assert one(RULE, world).identity == one(RULE, world, on("Dec 4")).identity
    other = world.with_task("Sand", crew=CREW, started=on("Dec 3"))
    assert one(RULE, world).identity != one(RULE, other).identity
