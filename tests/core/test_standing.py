"""Who stands where when: from visits, from work under way, from the forecast; who meets whom."""

from datetime import date
from typing import Any

import pytest

from server.core.standing import Stand, firm_stands, meeting, standing
from server.core.world.network import forecast
from tests.core.warnings.finding import NOW
from tests.worlds import DAY, HOUR, World, a_project, on

CREW, OTHER = "Ninepail Plaster", "Hobnail Millwork"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_place("Main flight")
    .with_place("Upper landing", floor="Upper floor")
    .with_detail("Rolled guard", place_id="upper-landing")
)
LATH = WORLD.with_task("Lath", crew=CREW)


def stands(world: World, day: str = "Dec 3", days: int = 10) -> list[Stand]:
    snapshot = world.snapshot()
    return list(standing(snapshot, forecast(snapshot, NOW), on(day).date(), days))


def firm(world: World) -> list[Stand]:
    snapshot = world.snapshot()
    return list(firm_stands(snapshot, forecast(snapshot, NOW)))


def hours(found: list[Stand]) -> list[tuple[str, str]]:
    return [(f"{s.start:%b %-d %-H:%M}", f"{s.finish:%-H:%M}") for s in found]


def booked(world: World, start: str, finish: str, crew: str = CREW, **fields: Any) -> World:
    return world.with_booking(crew, fields.pop("tasks", "Lath"), on(start), on(finish), **fields)


def test_a_visit_stands_in_the_place_of_the_detail_shift_by_shift() -> None:
    found = stands(booked(LATH, "Dec 4", "Dec 4 15:30"))
    assert hours(found) == [("Dec 4 7:00", "12:00"), ("Dec 4 12:30", "15:30")]
    assert {(s.place_id, s.why, s.firm) for s in found} == {("upper-landing", "visit", True)}
    assert found[0].visit_ids == ("ninepail-plaster-1",)


def test_a_tasks_own_place_goes_before_its_details() -> None:
    world = booked(LATH.with_changed("Lath", place_id="main-flight"), "Dec 4", "Dec 4 12:00")
    assert [s.place_id for s in stands(world)] == ["main-flight"]


def test_work_without_a_place_stands_nowhere() -> None:
    world = LATH.with_changed("Rolled guard", place_id=None)
    assert stands(booked(world, "Dec 4", "Dec 4 12:00")) == []


@pytest.mark.parametrize(
    "fields", [{"state": "can't come"}, {"ended": NOW}], ids=["refused", "taken back"]
)
def test_a_visit_that_does_not_come_stands_nowhere(fields: dict[str, Any]) -> None:
    assert firm(booked(LATH, "Dec 4", "Dec 4 12:00", **fields)) == []


def test_a_visit_whose_work_is_done_stands_nowhere() -> None:
    done = LATH.with_changed("Lath", started=on("Dec 1"), finished=on("Dec 2"))
    assert stands(booked(done, "Dec 4", "Dec 4 12:00")) == []


def test_a_visit_on_a_day_off_stands_in_its_own_hours() -> None:
    assert hours(stands(booked(LATH, "Dec 6 8:00", "Dec 6 11:00"))) == [("Dec 6 8:00", "11:00")]


def test_a_visit_over_a_weekend_rests_on_it() -> None:
    found = stands(booked(LATH, "Dec 5 12:30", "Dec 8 12:00"))
    assert hours(found) == [("Dec 5 12:30", "15:30"), ("Dec 8 7:00", "12:00")]


def test_a_visit_for_two_places_does_one_after_the_other() -> None:
    world = LATH.with_changed("Lath", work=2 * HOUR).with_task(
        "Beads", HOUR, crew=CREW, place_id="main-flight"
    )
    found = stands(booked(world, "Dec 4", "Dec 4 12:00", tasks=("Lath", "Beads")))
    assert [s.place_id for s in found] == ["upper-landing", "main-flight"]
    assert hours(found) == [("Dec 4 7:00", "9:00"), ("Dec 4 9:00", "12:00")]


def test_a_visit_for_two_tasks_in_one_place_is_one_stand() -> None:
    world = LATH.with_task("Beads", crew=CREW, overhead=True)
    (found,) = stands(booked(world, "Dec 4", "Dec 4 12:00", tasks=("Lath", "Beads")))
    assert (found.activity_ids, found.overhead) == (("lath", "beads"), True)


def test_work_under_way_stands_until_its_forecast_end() -> None:
    world = LATH.with_changed("Lath", started=on("Dec 3"), work=DAY + HOUR)
    found = stands(world)
    assert hours(found) == [
        ("Dec 3 7:00", "12:00"),
        ("Dec 3 12:30", "15:30"),
        ("Dec 4 7:00", "8:00"),
    ]
    assert {s.why for s in found} == {"under way"}


def test_work_under_way_does_not_stand_between_two_visits() -> None:
    world = LATH.with_changed("Lath", started=on("Dec 3"), work=4 * DAY)
    found = stands(booked(world, "Dec 8", "Dec 8 12:00"))
    assert [s[0] for s in hours(found)] == ["Dec 3 7:00", "Dec 3 12:30", "Dec 8 7:00"]


def test_work_that_nobody_has_said_is_done_stands_for_the_rest_of_the_shift() -> None:
    world = LATH.with_changed("Lath", started=on("Dec 3"), work=HOUR)
    assert hours(stands(world)) == [("Dec 3 7:00", "12:00")]


def test_joint_work_stands_with_all_its_crews() -> None:
    world = LATH.with_changed("Lath", started=on("Dec 3"), with_crew_ids=("hobnail-millwork",))
    assert {s.crew_id for s in stands(world)} == {"ninepail-plaster", "hobnail-millwork"}


def test_what_nobody_is_asked_for_stands_as_forecast_and_is_not_firm() -> None:
    world = LATH.with_changed("Lath", not_before=on("Dec 4"))
    assert {(s.why, s.firm) for s in stands(world)} == {("forecast", False)}
    assert firm(world) == []


def test_what_a_crew_at_work_in_the_detail_goes_on_to_within_its_notice_is_firm() -> None:
    begun = LATH.with_changed("Lath", started=on("Dec 3"))
    world = begun.with_task("Beads", 2 * HOUR, crew=CREW, after="Lath")
    assert [s.activity_ids for s in firm(world) if s.why == "forecast"] == [("beads",)]
    later = world.with_changed("Beads", not_before=on("Dec 8"))
    assert [s for s in firm(later) if s.why == "forecast"] == []


def test_shifts_that_are_over_are_left_out() -> None:
    world = booked(LATH, "Dec 2", "Dec 3 12:00")
    assert hours(stands(world, "Dec 1")) == [("Dec 3 7:00", "12:00")]


def test_only_the_days_that_are_asked_for_are_given() -> None:
    world = booked(LATH, "Dec 4", "Dec 9 12:00")
    found = stands(world, "Dec 5", 1)
    assert {s.start.date() for s in found} == {date(2025, 12, 5)}


def test_the_same_is_given_again() -> None:
    world = booked(LATH.with_task("Beads", crew=OTHER), "Dec 4", "Dec 5 12:00")
    assert stands(world) == stands(world)


def test_crews_meet_where_they_have_time_in_common() -> None:
    world = booked(LATH, "Dec 4", "Dec 4 12:00").with_task("Beads", crew=OTHER)
    meets = booked(world, "Dec 4 11:00", "Dec 4 15:30", OTHER, tasks="Beads")
    (pair,) = meeting(firm(meets))
    assert [s.crew_id for s in pair] == ["ninepail-plaster", "hobnail-millwork"]
    one, other = pair
    assert one.start < other.finish
    assert other.start < one.finish


def test_crews_that_come_one_after_the_other_do_not_meet() -> None:
    world = booked(LATH, "Dec 4", "Dec 4 11:00").with_task("Beads", crew=OTHER)
    after = booked(world, "Dec 4 11:00", "Dec 4 12:00", OTHER, tasks="Beads")
    assert list(meeting(firm(after))) == []
    one, other = firm(after)
    assert one.finish <= other.start
