"""The states of activities and checks, and what stands before an activity."""

from datetime import datetime
from typing import Any

import pytest

from server.core.states import activity_state, hold_state, holding, open_before, parts_ok
from server.core.world.network import forecast
from tests.worlds import CLOCK_DAY, World, a_project, on

NOW = on("Dec 3 10:45")
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
WORLD = (
    a_project()
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs", parts=3)
    .with_task("Set the stand-offs", puts_in="Stand-offs")
    .with_wait("Epoxy cures", CLOCK_DAY, after="Set the stand-offs")
    .with_check("Height", after="Epoxy cures", layers="Stand-offs", parts=3)
    .with_task("Hang board", after="Height")
    .with_task("Base coat", after="Hang board")
)
SET = WORLD.with_changed("Set the stand-offs", **DONE)


def state_of(world: World, id: str, at: datetime = NOW) -> str:
    snapshot = world.snapshot()
    return activity_state(snapshot, forecast(snapshot, at), snapshot.activities[id])


def check_state(world: World, at: datetime = NOW) -> str:
    snapshot = world.snapshot()
    return hold_state(snapshot, snapshot.holds["height-check"], forecast(snapshot, at))


def held_by(world: World, id: str) -> list[str]:
    return [hold.id for hold in holding(world.snapshot(), id)]


@pytest.mark.parametrize(
    ("facts", "state"),
    [
        ({}, "ready"),
        ({"started": on("Dec 2")}, "under way"),
        (DONE, "done"),
        ({"not_before": on("Dec 9")}, "waiting"),
    ],
)
def test_a_task_waits_is_ready_is_under_way_is_done(facts: dict[str, Any], state: str) -> None:
    world = WORLD.with_changed("Set the stand-offs", **facts)
    assert state_of(world, "set-the-stand-offs") == state


@pytest.mark.parametrize(("at", "state"), [(on("Dec 2 12:00"), "under way"), (on("Dec 3"), "done")])
def test_a_wait_begins_and_ends_by_itself(at: datetime, state: str) -> None:
    assert state_of(SET, "epoxy-cures", at) == state


def test_a_wait_whose_work_is_not_done_waits_itself() -> None:
    assert state_of(WORLD, "epoxy-cures") == "waiting"


def test_a_delivery_is_under_way_once_it_is_ordered() -> None:
    assert state_of(WORLD.with_delivery("Rail", ordered=on("Dec 1")), "rail") == "under way"


def test_a_check_is_not_to_be_made_before_the_wait_before_it_has_run_out() -> None:
    assert check_state(SET, on("Dec 2 12:00")) == "not yet"
    assert check_state(SET, on("Dec 3")) == "to check"


@pytest.mark.parametrize(
    ("attempt", "state"),
    [
        ("marked", "marked"),
        ("released", "released"),
        ("look again", "look again"),
        ("rejected", "to check"),
        ("opened again", "to check"),
    ],
)
def test_a_check_stands_as_its_last_attempt_left_it(attempt: str, state: str) -> None:
    assert check_state(SET.with_attempt("Height", attempt)) == state


def test_a_check_is_rejected_until_its_rework_is_done() -> None:
    rejected = SET.with_attempt("Height", "rejected").with_task("Height: 1/4 low")
    world = rejected.with_dependency("Height: 1/4 low", "Height")
    assert check_state(world) == "rejected"
    assert check_state(world.with_changed("Height: 1/4 low", **DONE)) == "to check"


def test_parts_add_up_over_the_releases_since_it_was_last_opened_again() -> None:
    world = (
        SET.with_attempt("Height", "opened again")
        .with_attempt("Height", "released", left_out=(2, 3))
        .with_attempt("Height", "released", parts=(3,))
    )
    snapshot = world.snapshot()
    assert parts_ok(snapshot, snapshot.holds["height-check"]) == {1, 3}


def test_a_check_holds_what_comes_after_it_however_far() -> None:
    assert held_by(WORLD, "hang-board") == held_by(WORLD, "base-coat") == ["height-check"]


def test_a_check_holds_through_what_is_done() -> None:
    assert held_by(WORLD.with_changed("Hang board", **DONE), "base-coat") == ["height-check"]


def test_a_released_check_holds_nothing() -> None:
    assert held_by(WORLD.with_changed("Height", **DONE), "hang-board") == []


@pytest.mark.parametrize(("type", "held"), [("SS", True), ("FF", False), ("SF", False)])
def test_a_check_that_only_holds_the_finish_holds_no_start(type: str, held: bool) -> None:
    world = WORLD.with_task("Lath").with_dependency("Hang board", "Lath", type=type)
    assert bool(held_by(world, "lath")) is held


def test_the_nearest_check_is_told_last() -> None:
    world = WORLD.with_check("Rough", after="Height").with_task("Tile", after="Rough")
    assert held_by(world, "tile") == ["height-check", "rough-check"]


def test_the_check_of_a_detail_that_ended_holds_nothing() -> None:
    world = (
        WORLD.with_changed("Garden stair rail", ended=NOW)
        .with_detail("Main flight")
        .with_task("Treads", after="Height")
    )
    assert held_by(world, "treads") == []


def test_before_an_invited_look_stands_what_it_looks_at() -> None:
    world = WORLD.with_changed("height-check", witness=True)
    snapshot = world.snapshot()
    open_ids = [a.id for a in open_before(snapshot, "hang-board", forecast(snapshot, NOW))]
    assert open_ids == ["epoxy-cures"]
    assert held_by(world, "hang-board") == []


def test_what_only_holds_the_finish_is_not_before_the_start() -> None:
    snapshot = WORLD.with_task("Lath").with_dependency("Base coat", "Lath", type="FF").snapshot()
    assert open_before(snapshot, "lath") == ()
    assert [a.id for a in open_before(snapshot, "lath", finish=True)] == ["base-coat"]


def test_a_start_that_comes_after_a_start_waits_only_for_that() -> None:
    world = WORLD.with_task("Lath").with_dependency("Set the stand-offs", "Lath", type="SS")
    assert open_before(world.snapshot(), "lath")
    begun = world.with_changed("Set the stand-offs", started=on("Dec 3"))
    assert open_before(begun.snapshot(), "lath") == ()
