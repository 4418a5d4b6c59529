"""What is to be known the day before a visit."""

from datetime import datetime
from fractions import Fraction
from typing import Any

import pytest

from server.core.beforehand import Beforehand, beforehand, next_day, tomorrow
from server.core.world import Reading
from server.core.world.network import forecast
from tests.worlds import CLOCK_DAY, DAY, HOUR, PROJECT, World, a_project, on

NOW = on("Dec 8 14:30")
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
CREW, OTHER = "Hobnail Millwork", "Ninepail Plaster"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_place("Garden stair")
    .with_detail("Garden stair rail")
    .with_task("Template", crew=CREW, **DONE)
    .with_delivery("Rail", after="Template", ordered=on("Dec 2"), promised=on("Dec 9"))
    .with_task("Set the rail", crew=CREW, after="Rail", place_id="garden-stair")
    .with_booking(CREW, "Set the rail", on("Dec 9"), on("Dec 9 15:30"))
)
HERE = WORLD.with_changed("Rail", started=on("Dec 2"), finished=on("Dec 3"), counted=on("Dec 3"))


def known(world: World, now: datetime = NOW) -> Beforehand:
    snapshot = world.snapshot()
    return beforehand(snapshot, forecast(snapshot, now), snapshot.bookings["hobnail-millwork-1"])


def air(degrees: int, at: datetime, place: str = "garden-stair", what: str = "air") -> Reading:
    return Reading(id=f"r-{at:%d%H}-{place}", project_id=PROJECT, place_id=place, what=what,
                   value=Fraction(degrees), unit="°F", by_id="rufus-orme", at=at)  # fmt: skip


# -- the work -----------------------------------------------------------------------------------


def test_work_with_nothing_in_its_way_is_ready() -> None:
    found = known(HERE)
    assert (found.work, found.waits_for_id, found.crew_id, found.person_id) == (
        "ready", None, None, None,
    )  # fmt: skip


def test_work_behind_a_check_waits_for_it_and_whoever_marks_it_moves_that() -> None:
    world = HERE.with_check("Height", marks=OTHER).with_dependency("Height", "Set the rail")
    found = known(world)
    assert (found.work, found.waits_for_id, found.crew_id) == (
        "waits",
        "height",
        "ninepail-plaster",
    )


def test_work_behind_what_is_under_way_and_done_by_then_is_ready_in_time() -> None:
    world = HERE.with_task("Base coat", 8 * HOUR, crew=OTHER, started=on("Dec 8"))
    found = known(world.with_dependency("Base coat", "Set the rail"))
    assert (found.work, found.waits_for_id, found.crew_id) == (
        "in time", "base-coat", "ninepail-plaster",
    )  # fmt: skip


def test_work_behind_a_wait_that_is_over_by_then_is_ready_in_time_and_nobody_moves_that() -> None:
    world = HERE.with_wait("Adhesive cures", CLOCK_DAY // 2, after="Template")
    world = world.with_changed("Template", started=on("Dec 8"), finished=on("Dec 8 14:00"))
    found = known(world.with_dependency("Adhesive cures", "Set the rail"))
    assert (found.work, found.waits_for_id) == ("in time", "adhesive-cures")
    assert (found.crew_id, found.person_id) == (None, None)


def test_work_that_cannot_be_ready_that_day_is_late_and_says_when() -> None:
    found = known(WORLD.with_changed("Rail", promised=on("Dec 12")))
    assert (found.work, found.waits_for_id, found.person_id) == ("late", "rail", "rufus-orme")
    assert found.ready_at == on("Dec 12")


def test_work_under_way_is_ready_whatever_is_open_before_it() -> None:
    found = known(WORLD.with_changed("Set the rail", started=on("Dec 8")))
    assert (found.work, found.waits_for_id) == ("ready", None)


def test_a_visit_does_not_wait_for_its_own_work() -> None:
    world = HERE.with_task("Oil", HOUR, crew=CREW, after="Set the rail")
    both = world.with_changed("hobnail-millwork-1", activity_ids=("set-the-rail", "oil"))
    assert known(both).work == "ready"


# -- its parts ----------------------------------------------------------------------------------


def test_parts_on_their_way_are_missing() -> None:
    found = known(WORLD)
    assert (found.missing_ids, found.uncounted_ids, found.here_ids) == (("rail",), (), ())


def test_parts_here_are_to_be_counted_and_looked_over() -> None:
    assert known(HERE.with_changed("Rail", counted=None)).uncounted_ids == ("rail",)
    assert known(HERE).here_ids == ("rail",)


def test_parts_reach_a_task_through_a_check_and_not_through_another_task() -> None:
    world = (
        HERE.with_delivery("Brackets")
        .with_check("Brackets fit", after="Brackets")
        .with_dependency("Brackets fit", "Set the rail")
        .with_delivery("Ply")
        .with_dependency("Ply", "Template")
        .with_dependency("Template", "Set the rail")
    )
    assert known(world).missing_ids == ("brackets",)


# -- the place ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("start", "finish", "fields", "there"),
    [
        ("Dec 9 10:00", "Dec 9 12:00", {}, ("ninepail-plaster",)),
        ("Dec 9 15:30", "Dec 9 17:00", {}, ()),
        ("Dec 8", "Dec 9 07:00", {}, ()),
        ("Dec 9", "Dec 9 12:00", {"state": "can't come"}, ()),
        ("Dec 9", "Dec 9 12:00", {"ended": on("Dec 8")}, ()),
    ],
)
def test_another_crew_at_the_same_hours_is_there_too(
    start: str, finish: str, fields: dict[str, Any], there: tuple[str, ...]
) -> None:
    world = HERE.with_task("Base coat", crew=OTHER, place_id="garden-stair")
    world = world.with_booking(OTHER, "Base coat", on(start), on(finish), **fields)
    assert known(world).there_ids == there


def test_two_crews_find_room_where_there_is_room_for_two() -> None:
    world = HERE.with_task("Base coat", crew=OTHER, place_id="garden-stair")
    world = world.with_booking(OTHER, "Base coat", on("Dec 9"), on("Dec 9 12:00"))
    assert known(world.with_changed("Garden stair", room_for=2)).there_ids == ()


def test_a_crew_in_another_place_is_not_there() -> None:
    world = HERE.with_place("Landing").with_task("Base coat", crew=OTHER, place_id="landing")
    world = world.with_booking(OTHER, "Base coat", on("Dec 9"), on("Dec 9 12:00"))
    assert known(world).there_ids == ()


def test_a_wait_that_closes_the_place_says_till_when() -> None:
    world = HERE.with_wait(
        "Adhesive cures", 9 * CLOCK_DAY, closes_place=True, place_id="garden-stair"
    )
    found = known(world)
    assert (found.closed_id, found.closed_till) == ("adhesive-cures", on("Dec 10"))
    short = known(world.with_changed("Adhesive cures", work=8 * CLOCK_DAY))
    assert (short.closed_id, short.closed_till) == (None, None)


def test_a_wait_that_the_visit_itself_begins_does_not_close_the_place_to_it() -> None:
    world = HERE.with_changed("Set the rail", work=HOUR).with_wait(
        "Adhesive cures", after="Set the rail", closes_place=True, place_id="garden-stair"
    )
    assert known(world).closed_id is None


def test_a_task_without_a_place_stands_where_its_detail_does() -> None:
    world = HERE.with_changed("Set the rail", place_id=None)
    assert known(world).place_id is None
    world = world.with_changed("Garden stair rail", place_id="garden-stair")
    assert known(world).place_id == "garden-stair"


# -- the air ------------------------------------------------------------------------------------


def test_the_newest_reading_of_air_there_counts() -> None:
    older, newer = air(45, on("Dec 8")), air(52, on("Dec 8 9:00"))
    assert known(HERE.put(newer, older)).air == newer


@pytest.mark.parametrize(
    "reading",
    [
        air(60, on("Dec 6")),
        air(60, on("Dec 8"), what="humidity"),
        air(60, on("Dec 8"), place="landing"),
    ],
)
def test_an_old_reading_another_kind_or_another_place_is_none(reading: Reading) -> None:
    assert known(HERE.with_place("Landing").put(reading)).air is None


def test_a_reading_of_yesterday_counts() -> None:
    assert known(HERE.put(air(60, on("Dec 7")))).air is not None


@pytest.mark.parametrize(("degrees", "wet", "cold"), [(49, True, True), (50, True, False),
                                                      (49, False, False)])  # fmt: skip
def test_under_fifty_degrees_is_too_cold_for_wet_work(degrees: int, wet: bool, cold: bool) -> None:
    world = HERE.with_changed("Set the rail", wet=wet).put(air(degrees, on("Dec 8")))
    assert (known(world).wet, known(world).too_cold) == (wet, cold)


def test_air_that_nobody_has_read_is_not_said_to_be_cold() -> None:
    assert not known(HERE.with_changed("Set the rail", wet=True)).too_cold


# -- tomorrow -----------------------------------------------------------------------------------


def ids_of(world: World, now: datetime) -> list[str]:
    snapshot = world.snapshot()
    return [visit.id for visit, _ in tomorrow(snapshot, forecast(snapshot, now))]


def test_on_a_friday_it_is_monday_s_visits_and_saturday_s() -> None:
    world = (
        HERE.with_task("Oil", HOUR, crew=CREW)
        .with_booking(CREW, "Oil", on("Dec 12"), on("Dec 12 12:00"))
        .with_booking(CREW, "Oil", on("Dec 15"), on("Dec 15 12:00"))
        .with_booking(CREW, "Oil", on("Dec 13"), on("Dec 13 12:00"))
        .with_booking(CREW, "Oil", on("Dec 16"), on("Dec 16 12:00"))
    )
    assert ids_of(world, on("Dec 12 14:00")) == ["hobnail-millwork-4", "hobnail-millwork-3"]
    assert next_day(world.snapshot(), on("Dec 12 14:00")) == on("Dec 15").date()


@pytest.mark.parametrize(
    "gone",
    [{"state": "can't come"}, {"ended": on("Dec 8")}, {"start": on("Dec 10"),
                                                       "finish": on("Dec 10 12:00")}],
)  # fmt: skip
def test_a_visit_that_does_not_come_that_day_is_left_out(gone: dict[str, Any]) -> None:
    assert ids_of(HERE, NOW) == ["hobnail-millwork-1"]
    assert ids_of(HERE.with_changed("hobnail-millwork-1", **gone), NOW) == []


def test_a_visit_whose_work_is_done_is_left_out() -> None:
    done = HERE.with_changed("Set the rail", started=on("Dec 8"), finished=on("Dec 8 12:00"))
    assert ids_of(done, NOW) == []


def test_work_of_more_than_a_day_is_known_the_day_before_it_begins() -> None:
    world = HERE.with_changed("Set the rail", work=3 * DAY)
    world = world.with_changed("hobnail-millwork-1", finish=on("Dec 11 15:30"))
    assert ids_of(world, NOW) == ["hobnail-millwork-1"]
    assert ids_of(world, on("Dec 9 14:00")) == []
