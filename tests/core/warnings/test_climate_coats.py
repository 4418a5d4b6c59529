"""A coat too soon on the one under it; too long between two."""

from dataclasses import replace

import pytest

from server.core.changes.bookings import MoveVisit
from server.core.warnings import Warning
from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import CREW, a_house, read, visit, wet_wall
from tests.worlds import CLOCK_DAY, HOUR, World, on

SOON, LONG, EARLY = "coat too soon", "too long between", "booked before ready"
WALL = wet_wall()
"""The base coat was done on Dec 2; its wait ends on Dec 8 at 3:30 pm."""


def moved_to(found: Warning) -> object:
    ((command,),) = commands(found)
    assert isinstance(command, MoveVisit)
    return command.start


def plaster(world: World, *values: tuple[str, str]) -> World:
    """With readings of the plaster: (value, at)."""
    for value, at in values:
        world = read(world, "plaster", value, at, where="by the newel")
    return world


MOVING = plaster(WALL, ("14", "Dec 5 8:00"), ("12", "Dec 8 8:00"))


# -- coat too soon ------------------------------------------------------------------------------


def test_a_coat_begun_before_the_wait_under_it_is_over_is_lost_work() -> None:
    found = one(SOON, WALL.with_changed("Finish coat", started=on("Dec 3")))
    assert (found.bad, found.activity_ids) == ("lost work", ("finish-coat", "base-coat"))
    assert (found.crew_id, found.mends) == ("ninepail-plaster", ())


def test_a_coat_too_soon_is_not_told_as_out_of_order_too() -> None:
    world = WALL.with_changed("Finish coat", started=on("Dec 3"))
    waiting = next(a for a in world.snapshot().chain if a.kind == "wait")
    told = world.put(replace(waiting, stuff="lime"))
    assert of("out of order", world.put(replace(waiting, stuff="")))
    assert not of("out of order", told)


def test_begun_after_the_wait_it_is_not_too_soon() -> None:
    world = WALL.with_changed("Finish coat", started=on("Dec 9"))
    assert not of(SOON, world, on("Dec 9 9:00"))


def test_begun_while_the_readings_still_changed_is_too_soon_though_the_wait_was_over() -> None:
    world = MOVING.with_changed("Finish coat", started=on("Dec 9"))
    assert one(SOON, world, on("Dec 9 9:00")).sentence.values["value"] == 12


def test_readings_taken_after_it_was_begun_say_nothing_of_the_coat_under_it() -> None:
    world = plaster(WALL.with_changed("Finish coat", started=on("Dec 9")), ("11", "Dec 8 16:00"))
    assert not of(SOON, plaster(world, ("18", "Dec 9 8:00")), on("Dec 9 9:00"))


def test_readings_that_have_settled_end_the_wait_before_its_time() -> None:
    still = plaster(WALL, ("11", "Dec 3 8:00"), ("11", "Dec 5 8:00"))
    world = still.with_changed("Finish coat", started=on("Dec 5 9:00"))
    assert not of(SOON, world, on("Dec 5 10:00"))


def test_once_somebody_has_looked_at_it_it_is_history() -> None:
    world = (
        WALL.with_changed("Finish coat", started=on("Dec 3"), finished=on("Dec 3 9:00"))
        .with_check("Finish check", after="Finish coat")
        .with_attempt("Finish check", "released")
    )
    assert one(SOON, world)
    assert not of(SOON, world.with_changed("Finish check", finished=on("Dec 3 10:00")))


def test_a_visit_while_the_readings_still_change_is_too_soon() -> None:
    world = visit(MOVING, "Finish coat", "Dec 9")
    found = one(SOON, world, on("Dec 8 16:00"))
    assert (found.at, found.crew_id) == (on("Dec 9"), "ninepail-plaster")


def test_a_visit_two_days_after_the_newest_reading_may_find_it_dry() -> None:
    assert not of(SOON, visit(MOVING, "Finish coat", "Dec 10"), on("Dec 8 16:00"))


def test_within_the_crews_notice_it_has_to_have_stopped() -> None:
    world = visit(MOVING, "Finish coat", "Dec 12")
    assert not of(SOON, world, on("Dec 10"))
    assert one(SOON, world, on("Dec 11 8:00"))
    assert not of(SOON, plaster(world, ("12", "Dec 11 7:30")), on("Dec 11 8:00"))


def test_a_visit_that_is_too_soon_by_the_clock_is_told_as_that() -> None:
    world = visit(WALL, "Finish coat", "Dec 5")
    assert one(EARLY, world)
    assert not of(SOON, world)


def test_a_visit_in_the_course_of_whose_day_it_is_dry_is_soon_enough() -> None:
    assert not of(SOON, visit(WALL, "Finish coat", "Dec 8"))


def test_cement_takes_two_days_between_coats_though_the_plan_says_less() -> None:
    quick = WALL.with_changed("Base dries", work=HOUR).with_changed("Base coat", stuff="cement")
    world = visit(quick, "Finish coat", "Dec 3")
    found = one(SOON, world, on("Dec 3 6:00"))
    assert found.sentence.values["dry"] == on("Dec 4 15:30")
    assert not of(SOON, world.with_changed("Base coat", stuff="lime"), on("Dec 3 6:00"))
    assert not of(SOON, visit(quick, "Finish coat", "Dec 5"), on("Dec 3 6:00"))


def test_a_check_between_the_two_does_not_hide_the_wait() -> None:
    world = (
        WALL.with_check("Base check", after="Base dries")
        .with_dependency("Base check", "Finish coat")
        .with_changed("Finish coat", started=on("Dec 3"))
    )
    assert one(SOON, world)


def test_a_dry_task_on_it_is_no_coat() -> None:
    assert not of(SOON, WALL.with_changed("Finish coat", started=on("Dec 3"), wet=False))


@pytest.mark.parametrize(
    ("day", "at", "moved"), [("Dec 9", "Dec 8 16:00", "Dec 11"), ("Dec 12", "Dec 11", "Dec 15")]
)
def test_asking_for_a_day_on_which_it_may_be_dry_mends_it(day: str, at: str, moved: str) -> None:
    world = visit(MOVING, "Finish coat", day)
    found = one(SOON, world, on(at))
    assert moved_to(found) == on(moved)
    assert all(SOON not in left for left in mended(world, found, on(at)))


def test_its_identity_changes_with_the_reading_and_not_with_the_clock() -> None:
    def identity(world: World, at: str) -> str:
        return one(SOON, visit(world, "Finish coat", "Dec 9"), on(at)).identity

    assert identity(MOVING, "Dec 8 16:00") == identity(MOVING, "Dec 8 18:00")
    again = plaster(MOVING, ("11", "Dec 8 17:00"))
    assert identity(MOVING, "Dec 8 18:00") != identity(again, "Dec 8 18:00")


# -- too long between ---------------------------------------------------------------------------

WITHIN = (
    a_house()
    .with_task("Bond coat", 4 * HOUR, CREW, wet=True, started=on("Dec 3"))
    .with_task("Base coat", 4 * HOUR, CREW, wet=True)
    .with_dependency("Bond coat", "Base coat", most=CLOCK_DAY)
)
DONE = WITHIN.with_changed("Bond coat", started=on("Dec 1"), finished=on("Dec 1 11:00"))


def test_what_cannot_come_within_its_time_any_more_is_lost_work() -> None:
    found = one(LONG, DONE)
    assert (found.bad, found.at) == ("lost work", on("Dec 2 11:00"))
    assert found.activity_ids == ("base-coat", "bond-coat")


def test_what_still_can_is_no_warning() -> None:
    assert not of(LONG, WITHIN)


def test_while_the_first_is_still_to_come_it_is_held_back_instead() -> None:
    assert not of(LONG, WITHIN.with_changed("Base coat", not_before=on("Dec 10")))


def test_what_has_come_too_late_in_fact_is_told_until_somebody_has_gone_on() -> None:
    world = DONE.with_changed("Base coat", started=on("Dec 3"))
    assert one(LONG, world).sentence.id == "warning.too_long_between.begun"
    done = world.with_changed("Base coat", finished=on("Dec 3 10:00"))
    assert one(LONG, done)
    assert not of(LONG, done.with_task("Prime", after="Base coat", started=on("Dec 3 10:15")))


def test_what_came_in_time_is_not() -> None:
    world = DONE.with_changed("Base coat", started=on("Dec 2"), finished=on("Dec 2 12:00"))
    assert not of(LONG, world)


def test_the_end_that_counts_is_that_of_the_dependency() -> None:
    world = DONE.with_changed("Base coat", started=on("Dec 2"), finished=on("Dec 2 15:00"))
    assert one(LONG, world.with_changed("Bond coat>Base coat", type="FF"))


def test_not_putting_it_off_any_more_mends_it() -> None:
    world = DONE.with_changed("Bond coat>Base coat", most=3 * CLOCK_DAY)
    assert not of(LONG, world)
    world = world.with_changed("Base coat", not_before=on("Dec 10"))
    found = one(LONG, world)
    assert len(found.mends) == 2
    assert all(LONG not in left for left in mended(world, found))


@pytest.mark.parametrize("fields", [{}, {"started": on("Dec 3")}])
def test_saying_that_it_need_not_come_within_that_time_mends_it(fields: dict[str, object]) -> None:
    world = DONE.with_changed("Base coat", **fields)
    found = one(LONG, world)
    assert len(found.mends) == 1
    assert all(LONG not in left for left in mended(world, found))


def test_its_identity_does_not_slide_with_the_forecast() -> None:
    assert one(LONG, DONE).identity == one(LONG, DONE, on("Dec 4")).identity
