"""A crew in two places; three short visits where one would do."""

from typing import Any

from tests.core.warnings.finding import mended, of, one
from tests.worlds import DAY, HOUR, World, a_project, on

TWO, OFTEN = "crew in two places", "too much trade for one visit"
CREW, OTHER = "Ninepail Plaster", "Hobnail Millwork"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_place("Main flight")
    .with_place("Upper landing", floor="Upper floor")
    .with_detail("Rolled guard", place_id="upper-landing")
    .with_task("Lath", crew=CREW)
    .with_detail("Main stair", place_id="main-flight")
    .with_task("Soffit", crew=CREW)
)


def booked(world: World, task: str, start: str, finish: str, **fields: Any) -> World:
    day = " ".join(start.split()[:2])
    return world.with_booking(CREW, task, on(start), on(f"{day} {finish}"), **fields)


BOTH = booked(booked(WORLD, "Lath", "Dec 4", "15:30"), "Soffit", "Dec 4 12:30", "15:30")

# -- crew in two places ---------------------------------------------------------------------


def test_a_crew_asked_for_two_places_at_the_same_hours_is_in_the_way() -> None:
    found = one(TWO, BOTH)
    assert (found.bad, found.at, found.crew_id) == (
        "in the way",
        on("Dec 4 12:30"),
        "ninepail-plaster",
    )
    assert found.place_ids == ("main-flight", "upper-landing")


def test_a_crew_that_can_field_two_is_not() -> None:
    assert not of(TWO, BOTH.with_changed(CREW, can_field=2))


def test_two_tasks_in_one_place_are_one_place() -> None:
    assert not of(TWO, BOTH.with_changed("Soffit", place_id="upper-landing"))


def test_one_place_after_the_other_is_one_at_a_time() -> None:
    world = booked(booked(WORLD, "Lath", "Dec 4", "12:00"), "Soffit", "Dec 4 12:30", "15:30")
    assert not of(TWO, world)


def test_work_under_way_that_goes_on_into_a_visit_elsewhere_is_in_the_way() -> None:
    begun = WORLD.with_changed("Lath", started=on("Dec 3"), work=2 * DAY)
    assert of(TWO, booked(begun, "Soffit", "Dec 4", "12:00"))
    assert not of(TWO, booked(begun, "Soffit", "Dec 5", "12:00"))


def test_another_crew_in_the_other_place_is_not() -> None:
    world = booked(
        WORLD.with_changed("Soffit", crew_id="hobnail-millwork"), "Lath", "Dec 4", "15:30"
    )
    assert not of(TWO, world.with_booking(OTHER, "Soffit", on("Dec 4"), on("Dec 4 15:30")))


def test_another_day_for_either_or_people_for_both_mends_it() -> None:
    found = one(TWO, BOTH)
    assert len(found.mends) == 3
    assert [TWO in left for left in mended(BOTH, found)] == [False, False, False]


def test_its_identity_is_that_of_its_facts() -> None:
    later = booked(booked(WORLD, "Lath", "Dec 5", "15:30"), "Soffit", "Dec 5", "15:30")
    assert one(TWO, BOTH).identity == one(TWO, BOTH, on("Dec 3 15:00")).identity
    assert one(TWO, BOTH).identity != one(TWO, later).identity


# -- too much trade for one visit -------------------------------------------------------------

SHORT = (
    a_project()
    .with_crew(CREW, notice=0)
    .with_crew(OTHER)
    .with_detail("Rolled guard")
    .with_task("Beads", HOUR, crew=CREW)
    .with_task("Patch", HOUR, crew=CREW)
    .with_task("Sand", HOUR, crew=CREW)
    .with_task("Set the rail", 20 * DAY, crew=OTHER, started=on("Dec 3"))
)


def visits(world: World, *days: str, finish: str = "9:00") -> World:
    for task, day in zip(("Beads", "Patch", "Sand"), days, strict=False):
        world = booked(world, task, day, finish)
    return world


THREE = visits(SHORT, "Dec 4", "Dec 5", "Dec 8")


def test_three_short_visits_in_a_fortnight_that_could_be_one_are_watched() -> None:
    found = one(OFTEN, THREE)
    assert (found.bad, found.crew_id, found.at) == ("watch", "ninepail-plaster", on("Dec 4"))
    assert found.sentence.values["visits"] == 3


def test_two_are_not() -> None:
    assert not of(OFTEN, visits(SHORT, "Dec 4", "Dec 5"))


def test_visits_of_half_a_day_are_long_enough() -> None:
    assert of(OFTEN, visits(SHORT, "Dec 4", "Dec 5", "Dec 8", finish="10:59"))
    assert not of(OFTEN, visits(SHORT, "Dec 4", "Dec 5", "Dec 8", finish="11:00"))


def test_visits_over_more_than_a_fortnight_are_not() -> None:
    assert not of(OFTEN, visits(SHORT, "Dec 4", "Dec 5", "Dec 18"))


def test_visits_with_the_work_of_others_between_could_not_be_one() -> None:
    world = SHORT.with_wait("Dries", HOUR, after="Beads").with_dependency("Dries", "Patch")
    assert not of(OFTEN, visits(world, "Dec 4", "Dec 5", "Dec 8"))


def test_work_that_follows_itself_could_be_one() -> None:
    world = SHORT.with_dependency("Beads", "Patch")
    assert of(OFTEN, visits(world, "Dec 4", "Dec 5", "Dec 8"))


def test_work_that_others_wait_for_is_not_put_together_later() -> None:
    world = SHORT.with_task("Prime", 20 * DAY, crew=OTHER, after="Beads")
    assert not of(OFTEN, visits(world, "Dec 4", "Dec 5", "Dec 8"))


def test_work_that_is_not_ready_by_the_last_visit_could_not_be_one() -> None:
    world = SHORT.with_changed("Sand", not_before=on("Dec 10"))
    assert not of(OFTEN, visits(world, "Dec 4", "Dec 5", "Dec 8"))


def test_work_that_does_not_fit_in_a_day_could_not_be_one() -> None:
    assert not of(OFTEN, THREE.with_changed("Sand", work=DAY))


def test_one_visit_for_all_of_it_mends_it() -> None:
    found = one(OFTEN, THREE)
    assert [OFTEN in left for left in mended(THREE, found)] == [False]


def test_a_visit_that_has_begun_is_not_counted() -> None:
    assert not of(OFTEN, THREE, on("Dec 4 8:00"))
