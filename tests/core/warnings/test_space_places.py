"""Too many in one place; the place is closed and somebody is booked."""

from typing import Any

from tests.core.warnings.finding import NOW, commands, mended, of, one
from tests.worlds import CLOCK_DAY, DAY, HOUR, World, a_project, on

MANY, CLOSED = "too many in one place", "place closed, someone booked"
CREW, OTHER, THIRD = "Ninepail Plaster", "Hobnail Millwork", "Cricket Post Electric"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_crew(THIRD)
    .with_place("Main flight")
    .with_place("Upper landing", floor="Upper floor")
    .with_detail("Rolled guard", place_id="main-flight")
    .with_task("Lath", crew=CREW)
    .with_task("Set the rail", crew=OTHER)
)


def booked(
    world: World, crew: str, task: str, start: str, finish: str = "15:30", **fields: Any
) -> World:
    until = on(f"{' '.join(start.split()[:2])} {finish}")
    return world.with_booking(crew, task, on(start), until, **fields)


def with_a_third(world: World, start: str) -> World:
    return booked(world.with_task("Light", crew=THIRD), THIRD, "Light", start)


LATH = booked(WORLD, CREW, "Lath", "Dec 4", asked_at=on("Dec 1 8:00"))
TWO = booked(LATH, OTHER, "Set the rail", "Dec 4", asked_at=on("Dec 2 8:00"))

# -- too many in one place ------------------------------------------------------------------


def test_two_crews_at_the_same_hours_in_a_place_with_room_for_one_are_in_the_way() -> None:
    found = one(MANY, TWO)
    assert (found.bad, found.at, found.place_ids) == ("in the way", on("Dec 4"), ("main-flight",))
    assert found.sentence.values["crews"] == (OTHER, CREW)
    assert found.crew_id == "hobnail-millwork"


def test_there_is_room_for_as_many_as_the_place_has_room_for() -> None:
    world = TWO.with_changed("Main flight", room_for=2)
    assert not of(MANY, world)
    assert of(MANY, with_a_third(world, "Dec 4"))


def test_crews_in_two_places_are_not_in_each_others_way() -> None:
    assert not of(MANY, TWO.with_changed("Lath", place_id="upper-landing"))


def test_a_crew_that_comes_when_the_other_has_gone_is_not_in_the_way() -> None:
    world = booked(WORLD, CREW, "Lath", "Dec 4", "12:00")
    assert not of(MANY, booked(world, OTHER, "Set the rail", "Dec 4 12:30"))


def test_joint_work_of_one_task_counts_as_one() -> None:
    world = LATH.with_changed("Lath", with_crew_ids=("hobnail-millwork",))
    assert not of(MANY, booked(world, OTHER, "Lath", "Dec 4"))


def test_who_is_there_for_less_than_two_hours_is_let_in() -> None:
    assert not of(MANY, booked(LATH, OTHER, "Set the rail", "Dec 4", "8:59"))
    assert of(MANY, booked(LATH, OTHER, "Set the rail", "Dec 4", "9:00"))


def test_work_under_way_today_counts_as_much_as_a_visit() -> None:
    world = WORLD.with_changed("Lath", started=on("Dec 3"))
    found = one(MANY, booked(world, OTHER, "Set the rail", "Dec 3 12:30"))
    assert found.at == on("Dec 3 12:30")


def test_what_is_only_forecast_is_in_nobodys_way() -> None:
    assert not of(MANY, LATH)


def test_one_set_of_crews_is_told_once_for_the_first_day() -> None:
    world = WORLD.with_booking(CREW, "Lath", on("Dec 4"), on("Dec 8 15:30"))
    world = world.with_booking(OTHER, "Set the rail", on("Dec 5"), on("Dec 8 15:30"))
    assert one(MANY, world).at == on("Dec 5")


def test_of_three_crews_all_are_told_together() -> None:
    found = one(MANY, with_a_third(TWO, "Dec 4"))
    assert found.subject == (
        "main-flight",
        "cricket-post-electric",
        "hobnail-millwork",
        "ninepail-plaster",
    )


def test_asking_either_for_its_next_free_day_or_more_room_mends_it() -> None:
    found = one(MANY, TWO)
    assert [mend.label.values.get("crew") for mend in found.mends] == [OTHER, CREW, None]
    assert [MANY in left for left in mended(TWO, found)] == [False, False, False]


def test_the_next_day_is_one_on_which_nobody_else_is_there() -> None:
    world = with_a_third(TWO, "Dec 5")
    ((command,), *_) = commands(one(MANY, world))
    assert command.start == on("Dec 8")  # type: ignore[attr-defined]


def test_crews_that_do_one_task_are_asked_for_another_day_together() -> None:
    joint = TWO.with_changed("Set the rail", with_crew_ids=("cricket-post-electric",))
    world = booked(joint, THIRD, "Set the rail", "Dec 4", asked_at=on("Dec 2 9:00"))
    found = one(MANY, world)
    assert len(found.mends[0].commands) == 2
    assert found.mends[0].label.values["crew"] == (THIRD, OTHER)
    assert MANY not in mended(world, found)[0]


def test_who_is_at_work_is_not_asked_for_another_day() -> None:
    world = WORLD.with_changed("Lath", started=on("Dec 3"))
    found = one(MANY, booked(world, OTHER, "Set the rail", "Dec 3 12:30"))
    assert [mend.label.values.get("crew") for mend in found.mends] == [OTHER, None]


def test_its_identity_changes_with_the_day() -> None:
    later = booked(booked(WORLD, CREW, "Lath", "Dec 5"), OTHER, "Set the rail", "Dec 5")
    assert one(MANY, TWO).identity != one(MANY, later).identity
    assert one(MANY, TWO).identity == one(MANY, TWO, on("Dec 3 14:00")).identity


# -- place closed ---------------------------------------------------------------------------

GLUED = (
    WORLD.with_task("Glue the treads", HOUR, crew=CREW, started=on("Dec 3"), finished=NOW)
    .with_wait("Glue cures", CLOCK_DAY, after="Glue the treads", closes_place=True)
    .with_changed("Lath", ended=NOW)
)
"""The main flight is closed until Dec 4, 10:45 am."""


def test_a_crew_that_comes_to_a_place_that_is_closed_is_in_danger() -> None:
    found = one(CLOSED, booked(GLUED, OTHER, "Set the rail", "Dec 4"))
    assert (found.bad, found.crew_id, found.at) == ("danger", "hobnail-millwork", on("Dec 4"))
    assert found.sentence.values["till"] == on("Dec 4 10:45")


def test_a_crew_that_comes_when_it_is_open_again_is_not() -> None:
    assert not of(CLOSED, booked(GLUED, OTHER, "Set the rail", "Dec 4 10:45"))


def test_another_place_is_not_closed() -> None:
    world = GLUED.with_changed("Set the rail", place_id="upper-landing")
    assert not of(CLOSED, booked(world, OTHER, "Set the rail", "Dec 4"))


def test_a_wait_that_closes_nothing_is_no_danger() -> None:
    world = GLUED.with_changed("Glue cures", closes_place=False)
    assert not of(CLOSED, booked(world, OTHER, "Set the rail", "Dec 4"))


def test_a_wait_that_nobody_is_about_to_begin_closes_nothing() -> None:
    world = GLUED.with_changed("Glue the treads", started=None, finished=None, work=DAY)
    later = booked(world, OTHER, "Set the rail", "Dec 4")
    assert not of(CLOSED, later)
    assert of(CLOSED, booked(later, CREW, "Glue the treads", "Dec 3 12:30"))


def test_whoever_begins_it_is_not_told_to_stay_away() -> None:
    world = GLUED.with_changed("Glue the treads", finished=None, work=3 * HOUR)
    assert not of(CLOSED, world)


def test_a_crew_is_not_told_to_stay_away_from_what_its_own_task_closes() -> None:
    lath = LATH.with_changed("Lath", work=3 * DAY, closes_place=True)
    assert not of(CLOSED, lath)
    assert of(CLOSED, booked(lath, OTHER, "Set the rail", "Dec 4"))


def test_a_visit_that_waits_for_it_is_told_as_booked_before_ready() -> None:
    world = GLUED.with_dependency("Glue cures", "Set the rail")
    world = world.with_changed("Glue cures", work=3 * CLOCK_DAY)
    early = booked(world, OTHER, "Set the rail", "Dec 4")
    assert of("booked before ready", early)
    assert not of(CLOSED, early)


def test_asking_for_a_day_on_which_it_is_open_mends_it() -> None:
    world = booked(GLUED, OTHER, "Set the rail", "Dec 4")
    found = one(CLOSED, world)
    assert [CLOSED in left for left in mended(world, found)] == [False]


def test_a_crew_that_does_not_come_is_in_no_danger() -> None:
    assert not of(CLOSED, booked(GLUED, OTHER, "Set the rail", "Dec 4", state="can't come"))
