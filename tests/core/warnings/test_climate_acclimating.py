"""Finish wood that has not come to rest in its room."""

import pytest

from server.core.changes.bookings import MoveVisit
from server.core.changes.pushing import PutOff
from server.core.warnings import Warning
from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import OTHER, a_house, read, visit
from tests.worlds import World, on

RULE = "acclimating too short"
HERE = (
    a_house()
    .with_delivery("Rail brought", finish_wood=True, ordered=on("Nov 20"), finished=on("Dec 1"))
    .with_task("Fit the rail", crew=OTHER, finish_wood=True, after="Rail brought")
)


def wood(world: World, *values: tuple[str, str], where: str = "Rail") -> World:
    """With readings of wood: (value, at)."""
    for value, at in values:
        world = read(world, "wood", value, at, where=where)
    return world


MOVING = wood(HERE, ("12", "Dec 1 9:00"), ("10", "Dec 3 9:00"))
STILL = wood(HERE, ("9", "Dec 1 8:00"), ("9", "Dec 3 9:00"))


def reasons(found: Warning) -> list[str]:
    said = found.sentence.values["unrest"]
    assert isinstance(said, tuple)
    return [one.id.rpartition(".")[2] for one in said if hasattr(one, "id")]


def air(world: World, humidity: int) -> World:
    """With a week of air at 70 °F: 40 % brings wood to 7.7 %."""
    for at in ("Dec 1 8:00", "Dec 3 8:00"):
        world = read(read(world, "air", 70, at), "humidity", humidity, at)
    return world


# -- still moving -------------------------------------------------------------------------------


def test_wood_that_still_changes_when_it_is_fitted_is_lost_work() -> None:
    found = one(RULE, MOVING.with_changed("Fit the rail", started=on("Dec 3")))
    assert (found.bad, found.crew_id, reasons(found)) == (
        "lost work",
        "hobnail-millwork",
        ["moves"],
    )
    assert found.mends == ()


def test_wood_at_rest_is_no_warning() -> None:
    assert not of(RULE, STILL)
    assert not of(RULE, STILL.with_changed("Fit the rail", started=on("Dec 3")))


def test_once_it_is_fitted_it_is_history() -> None:
    done = {"started": on("Dec 2"), "finished": on("Dec 3")}
    assert not of(RULE, MOVING.with_changed("Fit the rail", **done))


def test_wood_that_nobody_has_read_twice_is_not_judged() -> None:
    assert not of(RULE, HERE)
    assert not of(RULE, wood(HERE, ("12", "Dec 3 9:00")))


def test_other_work_and_wood_in_another_room_are_not_judged() -> None:
    assert not of(RULE, MOVING.with_changed("Fit the rail", finish_wood=False))
    assert not of(RULE, MOVING.with_changed("Fit the rail", place_id="landing"))


@pytest.mark.parametrize(("day", "fires"), [("Dec 5", True), ("Dec 8", False)])
def test_a_visit_within_two_days_of_the_newest_reading_cannot_find_it_at_rest(
    day: str, fires: bool
) -> None:
    assert bool(of(RULE, visit(MOVING, "Fit the rail", day, OTHER))) is fires


def test_within_the_crews_notice_it_has_to_be_at_rest() -> None:
    world = visit(MOVING, "Fit the rail", "Dec 12", OTHER)
    assert not of(RULE, world, on("Dec 10"))
    assert one(RULE, world, on("Dec 11 8:00"))
    assert not of(RULE, wood(world, ("10", "Dec 9 9:00")), on("Dec 11 8:00"))


def test_asking_for_a_day_on_which_it_may_be_at_rest_mends_it() -> None:
    world = visit(MOVING, "Fit the rail", "Dec 4", OTHER)
    found = one(RULE, world)
    ((move,),) = commands(found)
    assert isinstance(move, MoveVisit)
    assert move.start == on("Dec 8")
    assert all(RULE not in left for left in mended(world, found))


def test_without_a_visit_not_before_that_day_mends_it() -> None:
    found = one(RULE, MOVING)
    ((put_off,),) = commands(found)
    assert isinstance(put_off, PutOff)
    assert put_off.until == on("Dec 8")
    assert all(RULE not in left for left in mended(MOVING, found))


# -- away from the room, or from what carries it ------------------------------------------------


@pytest.mark.parametrize(("humidity", "fires"), [(40, False), (30, True), (65, True)])
def test_wood_at_rest_may_be_two_points_from_what_the_room_brings_it_to(
    humidity: int, fires: bool
) -> None:
    found = of(RULE, air(STILL, humidity))
    assert [reasons(w) for w in found] == ([["room"]] if fires else [])


@pytest.mark.parametrize(("value", "fires"), [("11", False), ("11.5", True), ("6.5", True)])
def test_what_was_read_before_it_came_carries_it_and_is_within_two_points(
    value: str, fires: bool
) -> None:
    world = wood(STILL, (value, "Nov 28 9:00"), (value, "Dec 2 9:00"), where="Stringer")
    assert [reasons(w) for w in of(RULE, world)] == ([["carrier"]] if fires else [])


def test_what_carries_it_may_still_change_and_an_old_reading_of_it_says_nothing() -> None:
    world = wood(STILL, ("15", "Nov 20 9:00"), ("10", "Dec 2 9:00"), where="Stringer")
    assert not of(RULE, world)
    assert not of(RULE, wood(STILL, ("15", "Nov 20 9:00"), where="Stringer"))


def test_all_that_says_so_is_one_note() -> None:
    world = wood(air(MOVING, 30), ("14", "Nov 28 9:00"), ("14", "Dec 2 9:00"), where="Stringer")
    assert reasons(one(RULE, world)) == ["moves", "room", "carrier"]


def test_far_off_it_may_still_come_to_rest() -> None:
    assert not of(RULE, air(visit(STILL, "Fit the rail", "Dec 8", OTHER), 30))


def test_a_later_day_mends_it_too() -> None:
    world = air(visit(STILL, "Fit the rail", "Dec 4", OTHER), 30)
    found = one(RULE, world)
    assert len(commands(found)) == 1
    assert all(RULE not in left for left in mended(world, found))


def test_its_identity_changes_with_the_reading_and_not_with_the_clock() -> None:
    assert one(RULE, MOVING).identity == one(RULE, MOVING, on("Dec 3 14:00")).identity
    again = wood(MOVING, ("8", "Dec 3 13:00"))
    assert one(RULE, MOVING).identity != one(RULE, again, on("Dec 3 14:00")).identity
