"""Booked before ready; ready and nobody booked; can't come."""

from typing import Any

import pytest

from server.core.changes.bookings import AskVisit, MoveVisit
from server.core.warnings import Warning
from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import DAY, HOUR, World, a_project, on

EARLY, NOBODY, CANNOT = "booked before ready", "ready, nobody booked", "can't come"
SHORT = "shorter than its least visit"
CREW, OTHER = "Ninepail Plaster", "Hobnail Millwork"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_crew("Thimble Hill", notice=0)
    .with_detail("Garden stair rail")
    .with_task("Lath", 3 * DAY, crew="Thimble Hill", started=on("Dec 3"))
    .with_task("Base coat", crew=CREW, after="Lath")
)
"""Lath ends on Dec 5 at 3:30 pm, so that the base coat can begin on Monday, Dec 8."""
READY = WORLD.with_changed("Lath", **DONE)
TWO = WORLD.with_task("Finish coat", crew=CREW, after="Base coat")
BOTH_READY = TWO.with_changed("Lath", **DONE)


def booked(world: World, day: str, until: str = "", **fields: Any) -> World:
    return world.with_booking(CREW, "Base coat", on(day), on(f"{until or day} 15:30"), **fields)


def asked(warning: Warning) -> AskVisit | MoveVisit:
    """The visit that its only mend asks for."""
    ((command,),) = [mend.commands for mend in warning.mends]
    assert isinstance(command, AskVisit | MoveVisit)
    return command


# -- booked before ready ------------------------------------------------------------------------


def test_a_crew_that_comes_before_its_work_is_ready_is_booked_too_soon() -> None:
    found = one(EARLY, booked(WORLD, "Dec 4"))
    assert (found.bad, found.at, found.crew_id) == ("in the way", on("Dec 4"), "thimble-hill")
    assert found.sentence.values["waits"] == "Lath"


@pytest.mark.parametrize("day", ["Dec 8", "Dec 10"])
def test_a_crew_that_comes_on_the_day_it_is_ready_or_later_is_not(day: str) -> None:
    assert not of(EARLY, booked(WORLD, day))


def test_being_ready_in_the_course_of_the_day_is_soon_enough() -> None:
    world = WORLD.with_changed("Lath", remaining=2 * HOUR)
    assert not of(EARLY, booked(world, "Dec 3"))


@pytest.mark.parametrize("fields", [{"state": "can't come"}, {"ended": NOW}])
def test_a_visit_that_does_not_come_is_not_too_soon(fields: dict[str, Any]) -> None:
    assert not of(EARLY, booked(WORLD, "Dec 4", **fields))


def test_a_visit_that_has_passed_is_not_too_soon_any_more() -> None:
    assert not of(EARLY, booked(WORLD, "Dec 2"))


def test_work_that_has_begun_needs_no_readiness() -> None:
    assert not of(EARLY, booked(WORLD, "Dec 4").with_changed("Base coat", started=NOW))


def test_asking_for_the_first_ready_day_mends_it() -> None:
    world = booked(WORLD, "Dec 4")
    found = one(EARLY, world)
    assert (asked(found).start, asked(found).finish) == (on("Dec 8"), on("Dec 8 15:30"))
    assert mended(world, found) == [()]


def test_a_visit_for_two_tasks_covers_both_once_moved() -> None:
    world = TWO.with_booking(CREW, ("Base coat", "Finish coat"), on("Dec 4"), on("Dec 5 15:30"))
    found = one(EARLY, world)
    assert (asked(found).start, asked(found).finish) == (on("Dec 8"), on("Dec 9 15:30"))
    assert mended(world, found) == [()]


def test_a_second_task_that_is_ready_only_after_the_visit_lengthens_it() -> None:
    world = TWO.with_booking(CREW, ("Base coat", "Finish coat"), on("Dec 8"), on("Dec 8 15:30"))
    found = one(EARLY, world)
    assert (asked(found).start, asked(found).finish) == (on("Dec 8"), on("Dec 9 15:30"))
    assert mended(world, found) == [()]


def test_its_identity_changes_with_the_day_it_is_ready() -> None:
    later = WORLD.with_changed("Lath", remaining=5 * DAY)
    first, second = booked(WORLD, "Dec 4"), booked(later, "Dec 4")
    assert one(EARLY, first).identity == one(EARLY, first, on("Dec 3 10:45")).identity
    assert one(EARLY, first).identity != one(EARLY, second).identity


# -- ready, nobody booked -----------------------------------------------------------------------


def test_work_that_is_ready_with_nobody_asked_is_in_the_way() -> None:
    found = one(NOBODY, READY)
    assert (found.bad, found.activity_ids, found.crew_id) == (
        "in the way",
        ("base-coat",),
        "ninepail-plaster",
    )


def test_work_that_is_ready_within_its_crews_notice_is_told_too() -> None:
    at = on("Dec 7 7:00")
    assert one(NOBODY, WORLD, at).sentence.id == "warning.nobody_booked.soon"
    assert not of(NOBODY, WORLD, on("Dec 6"))
    assert of(NOBODY, WORLD.with_changed(CREW, notice=3 * 24 * HOUR), on("Dec 6"))


@pytest.mark.parametrize("state", ["asked", "coming"])
def test_a_visit_asked_for_is_enough(state: str) -> None:
    assert not of(NOBODY, booked(READY, "Dec 4", state=state))


@pytest.mark.parametrize("fields", [{"ended": NOW}, {"state": "coming", "finish": on("Dec 2")}])
def test_a_visit_taken_back_or_over_is_not(fields: dict[str, Any]) -> None:
    world = booked(READY, "Dec 2").with_changed("ninepail-plaster-1", **fields)
    assert of(NOBODY, world)


def test_work_under_way_needs_no_visit() -> None:
    assert not of(NOBODY, READY.with_changed("Base coat", started=NOW))


def test_a_crew_at_work_in_the_same_detail_simply_goes_on() -> None:
    world = READY.with_task("Beads", crew=CREW, started=on("Dec 3"))
    assert not of(NOBODY, world)


def test_a_crew_that_has_to_come_for_something_before_it_is_told_once() -> None:
    world = BOTH_READY.with_changed("Base coat", work=HOUR)
    assert one(NOBODY, world).activity_ids == ("base-coat",)


def test_the_next_task_of_a_crew_that_is_asked_for_the_first_needs_its_own_visit() -> None:
    world = booked(BOTH_READY.with_changed("Base coat", work=HOUR), "Dec 4", state="coming")
    found = one(NOBODY, world)
    assert found.activity_ids == ("finish-coat",)
    assert asked(found).start == on("Dec 5")
    assert mended(world, found) == [()]


def test_of_crews_that_work_together_each_is_asked() -> None:
    world = booked(READY, "Dec 4", state="coming").with_changed(
        "Base coat", with_crew_ids=("hobnail-millwork",)
    )
    found = one(NOBODY, world)
    assert found.crew_id == "hobnail-millwork"
    assert mended(world, found) == [()]


def test_work_that_is_ready_and_has_no_crew_is_told_without_a_press() -> None:
    found = one(
        NOBODY,
        READY.with_changed("Base coat", crew_id=None),
    )
    assert (found.crew_id, found.mends) == (None, ())
    assert not of(NOBODY, WORLD.with_changed("Base coat", crew_id=None))


@pytest.mark.parametrize("kind", ["wait", "delivery", "decision"])
def test_only_tasks_need_a_visit(kind: str) -> None:
    world = READY.with_changed("Base coat", kind=kind)
    assert all("base-coat" not in found.activity_ids for found in of(NOBODY, world))


def test_asking_for_the_first_day_that_leaves_the_crew_its_notice_mends_it() -> None:
    found = one(NOBODY, READY)
    assert (asked(found).start, asked(found).finish) == (on("Dec 4"), on("Dec 4 15:30"))
    assert mended(READY, found) == [()]
    longer = READY.with_changed(CREW, notice=3 * 24 * HOUR)
    assert asked(one(NOBODY, longer)).start == on("Dec 8")


def test_a_short_task_is_asked_for_no_less_than_the_least_visit() -> None:
    found = one(NOBODY, READY.with_changed("Base coat", work=HOUR))
    assert asked(found).finish == on("Dec 4 11:00")


def test_a_mend_that_would_hide_something_unseen_is_not_shown() -> None:
    world = (
        READY.with_layer("Stand-offs")
        .with_changed(CREW, least_visit=600)
        .with_task("Set the stand-offs", crew=CREW, puts_in="Stand-offs", **DONE)
        .with_check("Height", after="Set the stand-offs", layers="Stand-offs")
        .with_dependency("Height", "Base coat")
        .with_effect("Base coat", "covers", "Stand-offs")
    )
    assert one(NOBODY, world).mends == ()


def test_without_a_super_nothing_can_be_pressed() -> None:
    assert one(NOBODY, READY.with_changed("Rufus Orme", ended=NOW)).mends == ()


# -- can't come ---------------------------------------------------------------------------------

REFUSED = booked(READY, "Dec 4", state="can't come")
OFFERED = booked(READY, "Dec 4", state="can't come", other_day=on("Dec 9"))


def test_a_crew_that_cannot_come_with_nothing_else_asked_is_in_the_way() -> None:
    found = one(CANNOT, REFUSED)
    assert (found.bad, found.crew_id, found.activity_ids) == (
        "in the way",
        "ninepail-plaster",
        ("base-coat",),
    )


def test_it_is_told_once_and_not_as_nobody_booked_too() -> None:
    assert not of(NOBODY, REFUSED)


def test_another_visit_asked_for_is_enough() -> None:
    assert not of(CANNOT, booked(REFUSED, "Dec 9"))


def test_another_crews_visit_is_not() -> None:
    assert of(CANNOT, REFUSED.with_booking(OTHER, "Base coat", on("Dec 9"), on("Dec 9 15:30")))


@pytest.mark.parametrize(
    "world",
    [
        REFUSED.with_changed("Base coat", started=NOW),
        REFUSED.with_changed("Base coat", ended=NOW),
        REFUSED.with_changed("ninepail-plaster-1", ended=NOW),
    ],
    ids=["begun", "not done any more", "taken back"],
)
def test_a_refusal_that_no_work_waits_for_is_no_warning(world: World) -> None:
    assert not of(CANNOT, world)


def test_asking_for_the_day_that_the_crew_offers_mends_it() -> None:
    found = one(CANNOT, OFFERED)
    assert found.sentence.id == "warning.cannot_come.offers"
    assert (asked(found).start, asked(found).finish) == (on("Dec 9"), on("Dec 9 15:30"))
    assert mended(OFFERED, found) == [()]


def test_a_day_without_an_hour_is_that_days_first_hour() -> None:
    world = booked(READY, "Dec 4", state="can't come", other_day=on("Dec 9 00:00"))
    assert asked(one(CANNOT, world)).start == on("Dec 9")


def test_where_no_day_is_offered_the_next_ready_day_is_asked_for() -> None:
    found = one(CANNOT, REFUSED)
    assert asked(found).start == on("Dec 5")
    assert mended(REFUSED, found) == [()]


def test_a_day_offered_that_has_passed_is_none() -> None:
    world = booked(READY, "Dec 4", state="can't come", other_day=on("Dec 2"))
    assert one(CANNOT, world).sentence.id == "warning.cannot_come.said"


# -- shorter than its least visit ---------------------------------------------------------------


def asked_for(until: str, **fields: Any) -> World:
    return READY.with_booking(CREW, "Base coat", on("Dec 4"), on(f"Dec 4 {until}"), **fields)


def test_a_crew_asked_for_less_than_it_comes_for_is_noted_and_asked_for_longer() -> None:
    world = asked_for("9:00")
    found = one(SHORT, world)
    assert (found.bad, found.crew_id, found.at) == ("watch", "ninepail-plaster", on("Dec 4"))
    command = asked(found)
    assert isinstance(command, MoveVisit)
    assert (command.start, command.finish) == (on("Dec 4"), on("Dec 4 11:00"))
    (left,) = mended(world, found)
    assert SHORT not in left


@pytest.mark.parametrize(
    "world",
    [
        asked_for("11:00"),
        asked_for("9:00", state="coming"),
        asked_for("9:00", ended=NOW),
        asked_for("9:00").with_changed(CREW, least_visit=2 * HOUR),
    ],
    ids=["as long as it comes for", "it comes anyway", "not wanted", "a crew that comes for less"],
)
def test_a_visit_that_is_long_enough_or_agreed_is_not_noted(world: World) -> None:
    assert not of(SHORT, world)
