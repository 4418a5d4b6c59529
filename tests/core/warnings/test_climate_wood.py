"""Finish wood into a wet house."""

from typing import Any

import pytest

from server.core.changes.bookings import MoveVisit
from server.core.changes.plan import AddDependency
from server.core.changes.pushing import PutOff
from server.core.warnings import Warning
from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import OTHER, read, visit, wet_wall
from tests.worlds import CLOCK_DAY, DAY, World, on

RULE = "wood into a wet house"
WALL = wet_wall().with_wait("Finish dries", 7 * CLOCK_DAY, after="Finish coat")
"""The base coat was done on Dec 2; the finish coat comes on Dec 9 and is dry on Dec 16 at 11."""
FIT = WALL.with_task("Fit the rail", crew=OTHER, finish_wood=True, not_before=on("Dec 11"))
AFTER = FIT.with_dependency("Finish dries", "Fit the rail")
BROUGHT = WALL.with_delivery(
    "Rail brought",
    crew=OTHER,
    finish_wood=True,
    ordered=on("Dec 1"),
    promised=on("Dec 10"),
)
DRY = (
    WALL.with_changed("Finish coat", started=on("Nov 20"), finished=on("Nov 20 11:00"))
    .with_changed("Base coat", started=on("Nov 10"), finished=on("Nov 10 15:30"))
    .with_changed("quarry-road", start=on("Nov 3"))
    .with_task("Fit the rail", 2 * DAY, OTHER, finish_wood=True, after="Finish dries")
)
"""All was dry on Nov 27; the rail can be fitted at once."""


def reasons(found: Warning) -> list[str]:
    said = found.sentence.values["against"]
    assert isinstance(said, tuple)
    return [one.id.rpartition(".")[2] for one in said if hasattr(one, "id")]


def read_twice(world: World, what: str, value: int, place: str = "Stair") -> World:
    return read(read(world, what, value, "Dec 1 8:00", place), what, value, "Dec 3 8:00", place)


# -- wet work -----------------------------------------------------------------------------------


def test_wood_that_the_forecast_brings_before_the_last_coat_is_dry_is_watched() -> None:
    found = one(RULE, FIT)
    assert (found.bad, found.at, found.person_id) == ("watch", on("Dec 11"), "rufus-orme")
    assert found.activity_ids == ("fit-the-rail", "finish-coat")
    assert found.sentence.values["dry"] == on("Dec 16 11:00")


def test_wood_that_comes_after_it_in_the_plan_is_no_warning() -> None:
    assert not of(RULE, AFTER)
    assert not of(RULE, FIT.with_changed("Fit the rail", not_before=on("Dec 16 12:00")))


def test_a_crew_asked_for_before_it_is_dry_brings_lost_work() -> None:
    found = one(RULE, visit(AFTER, "Fit the rail", "Dec 12", OTHER))
    assert (found.bad, found.at) == ("lost work", on("Dec 12"))
    assert not of(RULE, visit(AFTER, "Fit the rail", "Dec 17", OTHER))


def test_wood_promised_for_a_day_before_it_is_dry_is_lost_work() -> None:
    assert one(RULE, BROUGHT).bad == "lost work"
    assert not of(RULE, BROUGHT.with_changed("Rail brought", promised=on("Dec 17")))


def test_wood_that_is_in_while_a_coat_is_wet_is_lost_work_with_nothing_to_press() -> None:
    found = one(RULE, BROUGHT.with_changed("Rail brought", finished=on("Dec 3")))
    assert (found.bad, found.mends) == ("lost work", ())
    assert set(found.activity_ids) == {"rail-brought", "base-coat", "finish-coat"}


def test_wood_that_is_in_with_wet_work_still_far_off_is_watched() -> None:
    world = (
        BROUGHT.with_changed("Rail brought", finished=on("Dec 3"))
        .with_changed("Base coat", started=None, finished=None, not_before=on("Dec 29"))
        .with_changed("Finish coat", not_before=on("Dec 30"))
    )
    assert one(RULE, world).bad == "watch"


def test_wood_that_was_fitted_before_all_was_dry_is_told_till_it_is() -> None:
    fitted = FIT.with_changed("Fit the rail", started=on("Dec 2"), finished=on("Dec 3"))
    assert one(RULE, fitted)
    done = fitted.with_changed("Finish coat", started=on("Dec 9"), finished=on("Dec 9 11:00"))
    assert one(RULE, done, on("Dec 16 10:00"))
    assert not of(RULE, done, on("Dec 16 11:00"))


@pytest.mark.parametrize(
    "fields",
    [{"place_id": "loft"}, {"finish_wood": False}],
    ids=["in other air", "no finish wood"],
)
def test_wood_elsewhere_and_other_work_are_no_warning(fields: dict[str, Any]) -> None:
    assert not of(RULE, FIT.with_changed("Fit the rail", **fields))


def test_wet_work_in_another_room_with_the_same_air_counts() -> None:
    assert one(RULE, FIT.with_changed("Fit the rail", place_id="landing"))


@pytest.mark.parametrize("stuff", ["grout", "adhesive"])
def test_grout_and_glue_keep_no_wood_out(stuff: str) -> None:
    assert not of(RULE, FIT.with_changed("Finish coat", stuff=stuff))


def test_readings_that_have_settled_end_the_drying_before_its_time() -> None:
    world = FIT.with_changed("Finish coat", started=on("Dec 9"), finished=on("Dec 9 11:00"))
    moved = world.with_changed("Fit the rail", not_before=on("Dec 15"))
    assert one(RULE, moved, on("Dec 12 9:00"))
    still = read(read(moved, "plaster", 8, "Dec 10 8:00"), "plaster", 8, "Dec 12 8:00")
    assert not of(RULE, still, on("Dec 12 9:00"))


def test_of_bringing_and_fitting_the_same_wood_one_is_told() -> None:
    world = BROUGHT.with_task("Fit the rail", crew=OTHER, finish_wood=True, after="Rail brought")
    assert one(RULE, world).activity_ids[0] == "rail-brought"
    here = world.with_changed("Rail brought", finished=on("Dec 3"))
    assert one(RULE, here).activity_ids[0] == "fit-the-rail"
    later = here.with_changed("Fit the rail", not_before=on("Dec 9"))
    assert {w.activity_ids[0] for w in of(RULE, later)} == {"rail-brought", "fit-the-rail"}


def test_an_arrow_from_the_last_wait_or_another_day_mends_it() -> None:
    found = one(RULE, FIT)
    ((arrow,), (put_off,)) = commands(found)
    assert isinstance(arrow, AddDependency)
    assert (arrow.before_id, arrow.after_id) == ("finish-dries", "fit-the-rail")
    assert isinstance(put_off, PutOff)
    assert put_off.until == on("Dec 17")
    assert all(RULE not in left for left in mended(FIT, found))


def test_cement_with_no_wait_drawn_keeps_wood_out_for_its_days() -> None:
    world = FIT.with_changed("Finish dries", ended=on("Dec 1")).with_changed(
        "Finish coat", stuff="cement"
    )
    found = one(RULE, world)
    assert len(commands(found)) == 2
    assert all(RULE not in left for left in mended(world, found))


def test_the_visit_is_moved_with_it() -> None:
    world = visit(FIT, "Fit the rail", "Dec 11", OTHER)
    found = one(RULE, world)
    assert [type(c) for c in commands(found)[0]] == [AddDependency, MoveVisit]
    assert len(commands(found)) == 2
    assert all(RULE not in left for left in mended(world, found))


def test_of_a_delivery_on_its_way_another_day_mends_it() -> None:
    found = one(RULE, BROUGHT)
    assert [[type(c) for c in mend] for mend in commands(found)] == [[PutOff]]
    assert all(RULE not in left for left in mended(BROUGHT, found))


# -- the meter ----------------------------------------------------------------------------------

CHECKED = DRY.with_check("Meter check").with_ask("Wood moisture", unit="%")
RELEASED = {"decided_at": on("Nov 28"), "decided_by_id": "rufus-orme"}


def test_once_it_is_near_and_nobody_has_used_the_meter_since_it_dried_it_is_lost_work() -> None:
    found = one(RULE, DRY)
    assert (found.bad, reasons(found)) == ("lost work", ["unmetered"])


def test_far_off_it_is_too_early_to_ask_for_the_meter() -> None:
    assert not of(RULE, DRY.with_changed("Fit the rail", not_before=on("Dec 10")))


def test_a_meter_check_released_since_then_is_enough() -> None:
    assert one(RULE, CHECKED)
    assert not of(RULE, CHECKED.with_attempt("Meter check", "released", **RELEASED))


@pytest.mark.parametrize(
    "fields",
    [{"decided_at": on("Nov 26")}, {"state": "look again"}],
    ids=["before the last coat was dry", "not released"],
)
def test_one_released_earlier_or_not_is_none(fields: dict[str, Any]) -> None:
    released = CHECKED.with_attempt("Meter check", "released", **RELEASED)
    assert one(RULE, released.with_changed("meter-check-attempt-1", **fields))


def test_a_check_in_other_air_is_none() -> None:
    loft = CHECKED.with_changed("Meter check", place_id="loft")
    assert one(RULE, loft.with_attempt("Meter check", "released", **RELEASED))


def test_the_way_to_the_check_is_what_there_is_to_press() -> None:
    found = one(RULE, CHECKED)
    assert [m.goto_hold_id for m in found.mends if m.goto_hold_id] == ["meter-check-check"]


def test_another_day_mends_it_too() -> None:
    found = one(RULE, DRY)
    assert len(commands(found)) == 1
    assert all(RULE not in left for left in mended(DRY, found))


# -- the air ------------------------------------------------------------------------------------

METERED = CHECKED.with_attempt("Meter check", "released", **RELEASED)


@pytest.mark.parametrize(
    ("what", "value", "fires"),
    [
        ("air", 59, True),
        ("air", 60, False),
        ("air", 80, False),
        ("air", 81, True),
        ("humidity", 29, True),
        ("humidity", 30, False),
        ("humidity", 50, False),
        ("humidity", 51, True),
    ],
)
def test_the_average_of_a_week_has_to_be_as_wood_wants_it(
    what: str, value: int, fires: bool
) -> None:
    found = of(RULE, read_twice(METERED, what, value))
    assert [reasons(w) for w in found] == ([["average"]] if fires else [])


def test_one_reading_is_no_average() -> None:
    assert not of(RULE, read(METERED, "humidity", 70, "Dec 3 8:00"))


def test_far_off_the_air_may_still_change() -> None:
    later = METERED.with_changed("Fit the rail", not_before=on("Dec 10"))
    assert not of(RULE, read_twice(later, "humidity", 70))


def test_wood_that_is_being_fitted_in_damp_air_is_lost_work_and_fitted_it_is_history() -> None:
    world = read_twice(METERED.with_changed("Fit the rail", started=on("Dec 2")), "humidity", 70)
    assert one(RULE, world).mends == ()
    assert not of(RULE, world.with_changed("Fit the rail", finished=on("Dec 3")))


def test_asking_for_a_later_day_mends_it() -> None:
    world = read_twice(visit(METERED, "Fit the rail", "Dec 4", OTHER), "humidity", 70)
    found = one(RULE, world)
    assert [type(c) for c in commands(found)[0]] == [PutOff, MoveVisit]
    assert all(RULE not in left for left in mended(world, found))


def test_its_identity_changes_with_what_speaks_against_it_and_not_with_each_reading() -> None:
    damp, damper = (read_twice(METERED, "humidity", value) for value in (60, 70))
    dry = read_twice(METERED, "humidity", 20)
    assert one(RULE, damp).identity == one(RULE, damper).identity
    assert one(RULE, damp).identity != one(RULE, dry).identity
    assert one(RULE, damp).subject == one(RULE, dry).subject == ("fit-the-rail",)


def test_wood_of_a_crew_is_told_to_that_crew_and_other_wood_to_the_super() -> None:
    said = visit(FIT, "Fit the rail", "Dec 11", OTHER)
    assert (one(RULE, said).crew_id, one(RULE, said).person_id) == ("hobnail-millwork", None)
    nobody = BROUGHT.with_changed("Rail brought", crew_id=None)
    assert (one(RULE, nobody).crew_id, one(RULE, nobody).person_id) == (None, "rufus-orme")


def test_all_wood_in_one_air_that_only_the_forecast_brings_is_one_note() -> None:
    world = (
        FIT.with_detail("Landing rail", place_id="landing")
        .with_task("Cap", crew=OTHER, finish_wood=True, not_before=on("Dec 12"))
        .with_task("Post", crew=OTHER, finish_wood=True, after="Cap")
    )
    found = one(RULE, world)
    assert found.activity_ids == ("fit-the-rail", "cap", "finish-coat")
    assert len(commands(found)) == 2
    assert all(RULE not in left for left in mended(world, found))
    apart = world.with_changed("Landing", air="up").with_changed("Cap", place_id="loft")
    assert one(RULE, apart).activity_ids == ("fit-the-rail", "finish-coat")


def test_its_identity_by_the_forecast_does_not_slide_with_the_clock() -> None:
    assert one(RULE, FIT).identity == one(RULE, FIT, on("Dec 4")).identity
