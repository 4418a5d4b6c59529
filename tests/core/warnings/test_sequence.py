"""Out of order: what has begun before something it comes after."""

from typing import Any

import pytest

from tests.core.warnings.finding import NOW, commands, mended, of, one
from tests.worlds import CLOCK_DAY, World, a_project, on

RULE = "out of order"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
BEGUN = {"started": on("Dec 2")}
WORLD = (
    a_project()
    .with_crew("Ninepail Plaster")
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs")
    .with_task("Lath", crew="Ninepail Plaster")
    .with_task("Base coat", crew="Ninepail Plaster", after="Lath", **BEGUN)
)


def test_what_began_before_the_work_it_comes_after_is_out_of_order() -> None:
    found = one(RULE, WORLD)
    assert (found.bad, found.crew_id) == ("in the way", "ninepail-plaster")
    assert set(found.activity_ids) == {"lath", "base-coat"}


def test_what_began_after_it_is_in_order() -> None:
    assert not of(RULE, WORLD.with_changed("Lath", started=on("Dec 1"), finished=on("Dec 1 15:30")))


def test_once_both_are_done_it_is_history() -> None:
    assert not of(RULE, WORLD.with_changed("Lath", started=on("Dec 2"), finished=on("Dec 3")))


def test_all_that_ran_ahead_of_one_thing_is_one_note() -> None:
    world = WORLD.with_task("Beads", after="Lath", **BEGUN)
    assert set(one(RULE, world).activity_ids) == {"lath", "base-coat", "beads"}


@pytest.mark.parametrize(
    ("type", "before", "after", "fires"),
    [
        ("SS", {}, BEGUN, True),
        ("SS", BEGUN, BEGUN, False),
        ("FF", BEGUN, BEGUN, False),
        ("FF", BEGUN, DONE, True),
        ("SF", {}, BEGUN, False),
        ("SF", {}, DONE, True),
        ("SF", BEGUN, DONE, False),
    ],
)
def test_each_dependency_holds_its_own_end(
    type: str, before: dict[str, Any], after: dict[str, Any], fires: bool
) -> None:
    world = (
        WORLD.with_changed("Lath>Base coat", type=type)
        .with_changed("Lath", **before)
        .with_changed("Base coat", **after)
    )
    assert bool(of(RULE, world)) is fires


def test_work_over_a_wait_that_still_runs_is_out_of_order() -> None:
    waits = WORLD.with_changed("Lath", started=on("Dec 1"), finished=on("Dec 1 15:30")).with_wait(
        "Lath rests", 9 * CLOCK_DAY, after="Lath"
    )
    world = waits.with_dependency("Lath rests", "Base coat")
    assert set(one(RULE, world).activity_ids) == {"lath-rests", "base-coat"}
    assert not of(RULE, world.with_changed("Lath rests", work=60))


def test_an_invited_look_has_no_order() -> None:
    world = WORLD.with_changed("Lath", **DONE).with_check("Owner looks", witness=True)
    assert not of(RULE, world.with_dependency("Owner looks", "Base coat"))


def test_work_behind_a_check_that_was_opened_again_leads_to_the_check() -> None:
    world = (
        WORLD.with_changed("Lath", **DONE)
        .with_check("Lath check", after="Lath")
        .with_dependency("Lath check", "Base coat")
    )
    found = one(RULE, world)
    assert [m.goto_hold_id for m in found.mends] == ["lath-check-check"]


def test_what_hides_the_check_is_told_as_hidden_and_not_here() -> None:
    world = (
        WORLD.with_changed("Lath", **DONE)
        .with_check("Lath check", after="Lath", layers="Stand-offs")
        .with_dependency("Lath check", "Base coat")
        .with_effect("Base coat", "covers", "Stand-offs")
    )
    assert not of(RULE, world)
    assert one("hidden open", world)


def test_the_reason_it_was_started_anyway_is_told() -> None:
    found = one(RULE, WORLD.with_changed("Base coat", anyway="Half the wall was done"))
    assert found.sentence.values["reason"] == ("Half the wall was done",)


def test_taking_the_order_out_of_the_plan_mends_it() -> None:
    found = one(RULE, WORLD)
    assert len(commands(found)) == 1
    assert all(RULE not in left for left in mended(WORLD, found))


def test_the_mend_of_two_that_ran_ahead_clears_both() -> None:
    world = WORLD.with_task("Beads", after="Lath", **BEGUN)
    assert all(RULE not in left for left in mended(world, one(RULE, world)))


def test_what_left_the_chain_is_not_out_of_order() -> None:
    assert not of(RULE, WORLD.with_changed("Lath", ended=NOW))
    assert not of(RULE, WORLD.with_changed("Garden stair rail", ended=NOW))


def test_the_same_facts_have_the_same_identity_and_others_another() -> None:
    def identity(world: World, at: str) -> str:
        return one(RULE, world, on(at)).identity

    assert identity(WORLD, "Dec 3 10:45") == identity(WORLD, "Dec 4")
    assert identity(WORLD, "Dec 3 10:45") != identity(
        WORLD.with_changed("Base coat", finished=on("Dec 3")), "Dec 3 10:45"
    )
