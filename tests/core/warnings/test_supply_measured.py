"""Measured too soon, and measured, then moved."""

import pytest

from tests.core.warnings.finding import mended, of, one
from tests.worlds import CLOCK_DAY, DAY, World, a_project, on

SOON, MOVED = "measured too soon", "measured, then moved"
CREW, PLASTER = "Hobnail Millwork", "Ninepail Plaster"
BARE = (
    a_project()
    .with_crew(CREW)
    .with_crew(PLASTER)
    .with_detail("Garden stair rail")
    .with_layer("Plaster")
    .with_task("Finish coat", crew=PLASTER, puts_in="Plaster")
    .with_wait("Finish coat dries", CLOCK_DAY, after="Finish coat")
    .with_check("Plaster looked at", after="Finish coat dries", layers="Plaster", marks=PLASTER)
    .with_task("Template the rail", crew=CREW, measured_from_id="plaster")
    .with_delivery("Rail made", 5 * DAY, after="Template the rail", measured_from_id="plaster")
    .with_task("Set the rail", crew=CREW, after="Rail made")
)
"""Nothing in it says that the template comes after the plaster."""
WORLD = BARE.with_dependency("Plaster looked at", "Template the rail")
COATED = WORLD.with_changed("Finish coat", started=on("Dec 1"), finished=on("Dec 1 12:00"))
RELEASED = COATED.with_attempt("Plaster looked at", "released").with_changed(
    "Plaster looked at", started=on("Dec 2 13:00"), finished=on("Dec 2 13:00")
)


def templated(world: World, day: str, until: str = "") -> World:
    return world.with_changed(
        "Template the rail", started=on(day), finished=on(until) if until else None
    )


def reworked(world: World, day: str) -> World:
    """The plaster is put in again, as a rejected check asks."""
    rejected = world.with_attempt("Plaster looked at", "rejected")
    return rejected.with_task(
        "Skim again",
        crew=PLASTER,
        puts_in="Plaster",
        rework_of_id="plaster-looked-at-attempt-2",
        started=on(day),
    )


# -- too soon -----------------------------------------------------------------------------------


def test_a_template_that_no_order_keeps_after_the_surface_is_lost_work() -> None:
    found = one(SOON, BARE)
    assert (found.bad, found.layer_ids) == ("lost work", ("plaster",))
    assert found.activity_ids == (
        "template-the-rail",
        "finish-coat",
        "finish-coat-dries",
        "plaster-looked-at",
    )


def test_one_that_comes_after_it_is_in_and_dry_and_released_is_not() -> None:
    assert not of(SOON, WORLD)


def test_what_is_made_from_the_template_is_not_told_too() -> None:
    assert "rail-made" not in {id for w in of(SOON, BARE) for id in w.activity_ids}


def test_the_order_mends_it() -> None:
    found = one(SOON, BARE)
    assert mended(BARE, found)
    assert all(SOON not in left for left in mended(BARE, found))


def test_a_template_before_the_surface_is_turned_round() -> None:
    world = BARE.with_dependency("Template the rail", "Finish coat")
    found = one(SOON, world)
    assert "finish-coat" in found.activity_ids
    assert len(found.mends) == 1
    assert all(SOON not in left for left in mended(world, found))


def test_one_begun_before_the_check_is_told_and_can_be_taken_back() -> None:
    world = templated(COATED, "Dec 3")
    found = one(SOON, world)
    assert found.activity_ids == ("template-the-rail", "plaster-looked-at")
    assert len(found.mends) == 1
    assert all(SOON not in left for left in mended(world, found))


def test_it_is_told_once_and_not_as_out_of_order_too() -> None:
    assert not of("out of order", templated(COATED, "Dec 3"))


def test_one_begun_after_all_of_it_is_not() -> None:
    assert not of(SOON, templated(RELEASED, "Dec 3"))


def test_one_done_before_it_was_dry_stays_too_soon_when_it_is() -> None:
    world = templated(RELEASED, "Dec 2 7:00", "Dec 2 9:00")
    assert one(SOON, world).activity_ids[1:] == ("finish-coat-dries", "plaster-looked-at")


def test_measuring_again_mends_it() -> None:
    for world in (
        templated(RELEASED, "Dec 2 7:00", "Dec 2 9:00"),
        templated(COATED, "Dec 2 7:00", "Dec 2 9:00"),
    ):
        found = one(SOON, world)
        assert [m.label.id for m in found.mends] == ["warning.measure_again"]
        assert all(SOON not in left for left in mended(world, found))


def test_once_the_rail_is_in_it_is_history() -> None:
    world = templated(RELEASED, "Dec 2 7:00", "Dec 2 9:00")
    fitted = {"started": on("Dec 3"), "finished": on("Dec 3 9:00")}
    assert not of(SOON, world.with_changed("Set the rail", **fitted))


def test_an_order_that_is_measured_itself_counts_from_the_day_it_was_placed() -> None:
    world = BARE.with_changed("Template the rail", measured_from_id=None)
    ordered = world.with_changed("Rail made", ordered=on("Dec 2"))
    found = one(SOON, ordered)
    assert found.activity_ids[0] == "rail-made"
    assert all(SOON not in left for left in mended(ordered, found))


def test_a_later_look_at_the_same_surface_is_not_waited_for() -> None:
    world = WORLD.with_layer("Rail").with_effect("Set the rail", "puts in", "Rail")
    final = world.with_check("Final", layers=("Rail", "Plaster"))
    assert not of(SOON, final)


def test_a_second_look_beside_the_plan_is_not_waited_for() -> None:
    ready = WORLD.with_check("Ready for the rail", after="Finish coat dries", layers="Plaster")
    assert not of(SOON, ready)


def test_a_check_that_is_measured_leads_to_its_page() -> None:
    world = BARE.with_changed("Template the rail", measured_from_id=None)
    world = world.with_changed("Rail made", measured_from_id=None).with_check("Height")
    world = world.with_changed("Height", measured_from_id="plaster")
    found = one(SOON, world.with_attempt("Height", marked_at=on("Dec 2")))
    assert [m.goto_hold_id for m in found.mends if m.goto_hold_id] == ["height-check"]


# -- measured, then moved -----------------------------------------------------------------------

MEASURED = templated(RELEASED, "Dec 2 13:15", "Dec 2 14:00")


def test_rework_after_it_was_measured_is_lost_work() -> None:
    found = one(MOVED, reworked(MEASURED, "Dec 3"))
    assert (found.bad, found.activity_ids) == ("lost work", ("template-the-rail", "skim-again"))
    assert not of(SOON, MEASURED)


@pytest.mark.parametrize("until", ["Dec 2 13:10", "Dec 2 14:00"])
def test_rework_that_was_over_by_then_is_not(until: str) -> None:
    world = reworked(MEASURED, "Dec 2 13:00").with_changed("Skim again", finished=on(until))
    assert not of(MOVED, world)


def test_opening_it_up_moves_it_too() -> None:
    opened = MEASURED.with_task("Open up", opens="Plaster", started=on("Dec 3"))
    assert one(MOVED, opened)


def test_measuring_once_more_after_it_mends_it() -> None:
    world = reworked(MEASURED, "Dec 3")
    found = one(MOVED, world)
    assert [m.label.id for m in found.mends] == ["warning.measure_again"]
    assert all(MOVED not in left for left in mended(world, found))


def test_once_what_was_made_from_it_is_in_nothing_is_lost_any_more() -> None:
    fitted = {"started": on("Dec 3"), "finished": on("Dec 3 9:00")}
    assert not of(MOVED, reworked(MEASURED, "Dec 3").with_changed("Set the rail", **fitted))


def test_its_identity_changes_when_the_work_goes_on() -> None:
    world = reworked(MEASURED, "Dec 3")
    first, later = one(MOVED, world), one(MOVED, world, on("Dec 4"))
    done = one(MOVED, world.with_changed("Skim again", finished=on("Dec 3 10:00")))
    assert first.identity == later.identity != done.identity
