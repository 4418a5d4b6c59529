"""A house, its floors, places and ways, the calendars, the clock of a demo."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from server.core.changes import change
from server.core.changes.places import (
    AddFloor,
    ChangeProject,
    KeepCalendar,
    KeepPlace,
    KeepWay,
    MoveClock,
    StartProject,
)
from server.core.refusals import Refusal
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import PROJECT, World, a_project, actor, on

WORLD = (
    a_project()
    .with_place("Top of well", floor="upper floor", open_to=("landing",))
    .with_place("Landing", floor="upper floor", open_to=("foot",))
    .with_place("Foot")
    .with_way("Old stair", opened=on("Dec 1"))
)
COMPANY_ONLY = World(replace(a_project().snapshot(), projects={}, floors={}))


def a_house(**other: Any) -> StartProject:
    plain = {"id": "p9", "name": "Mill Lane", "time_zone": "America/Chicago"}
    return StartProject(**{**plain, "start": on("Dec 8"), "calendar_id": "site", **other})


def test_a_house_starts_in_a_company_without_one() -> None:
    after = pressed(COMPANY_ONLY, a_house())
    assert after.project.name == "Mill Lane"
    assert after.project.company_id == "tallow-creek"


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"name": ""}, "input.no_name", "name"),
        ({"time_zone": ""}, "places.no_zone", "time_zone"),
        ({"time_zone": "here & there"}, "places.no_zone", "time_zone"),
        ({"calendar_id": "nights"}, "change.gone", "calendar_id"),
        ({"start": NOW.replace(year=2205)}, "input.far_off", "start"),
    ],
)
def test_a_wrong_house_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(COMPANY_ONLY, a_house(**other)) == (id, field)


def a_change(**other: Any) -> ChangeProject:
    plain = {"project_id": PROJECT, "name": "Quarry Road", "time_zone": "America/Chicago"}
    return ChangeProject(**{**plain, "start": on("Dec 1"), "calendar_id": "site", **other})


def test_a_house_does_not_start_after_work_was_done() -> None:
    world = WORLD.with_detail("Main flight").with_task("Block", started=on("Dec 2"))
    assert refused(world, a_change(start=on("Dec 3"))) == ("places.start_after_work", "start")
    assert pressed(world, a_change(start=on("Dec 2"))).project.start == on("Dec 2")


def a_calendar(*shifts: str, **other: Any) -> KeepCalendar:
    return KeepCalendar(**{"id": "c9", "name": "Winter", "shifts": shifts, **other})


def test_a_shift_may_end_at_midnight() -> None:
    after = pressed(WORLD, a_calendar("0 20:00 24:00"))
    assert after.calendars["c9"].shifts == ("0 20:00 24:00",)


def test_closed_days_stand_in_order_each_once() -> None:
    days = (date(2025, 12, 26), date(2025, 12, 25), date(2025, 12, 26))
    after = pressed(WORLD, a_calendar("0 07:00 12:00", closed=days))
    assert after.calendars["c9"].closed == (date(2025, 12, 25), date(2025, 12, 26))


@pytest.mark.parametrize(
    ("shifts", "other", "id", "field"),
    [
        ((), {}, "schedule.empty_week", "shifts"),
        (("Mon 7-12",), {}, "places.bad_shift", "shifts"),
        (("7 07:00 12:00",), {}, "places.bad_shift", "shifts"),
        (("0 07:00 25:00",), {}, "schedule.bad_time", "shifts"),
        (("0 12:00 07:00",), {}, "schedule.shift_ends_first", "shifts"),
        (("0 07:00 12:00", "0 11:00 15:00"), {}, "schedule.shifts_overlap", "shifts"),
        (("0 07:00 12:00",), {"extra": ("Dec 6",)}, "places.bad_extra", "extra"),
        (("0 07:00 12:00",), {"extra": ("2025-13-06 08:00 12:00",)}, "places.bad_extra", "extra"),
        (("0 07:00 12:00",), {"name": "site WEEK"}, "input.name_taken", "name"),
    ],
)
def test_hours_that_are_none_are_refused(shifts: Any, other: Any, id: str, field: str) -> None:
    before = WORLD.snapshot()
    with pytest.raises(Refusal) as caught:
        change(before, actor(before), a_calendar(*shifts, **other), NOW)
    assert (caught.value.id, caught.value.field) == (id, field)


def test_floors_are_added_upward() -> None:
    floors = pressed(WORLD, AddFloor(id="f9", name="Attic")).floors
    assert floors["f9"].order > floors["upper-floor"].order
    assert refused(WORLD, AddFloor(id="f9", name="main floor")) == ("input.name_taken", "name")


def a_place(**other: Any) -> KeepPlace:
    return KeepPlace(**{"id": "x9", "name": "Window seat", "floor_id": "main-floor", **other})


def test_a_place_is_kept_and_changed() -> None:
    world = World(pressed(WORLD, a_place(room_for=2)))
    after = pressed(world, a_place(room_for=3, name="Bay"))
    assert (after.places["x9"].name, after.places["x9"].room_for) == ("Bay", 3)
    assert after.places["x9"].order == world.snapshot().places["x9"].order


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"floor_id": "cellar"}, "change.gone", "floor_id"),
        ({"room_for": 0}, "input.number_outside", "room_for"),
        ({"name": "FOOT"}, "input.name_taken", "name"),
        ({"open_to": ("x9",)}, "places.open_to_itself", "open_to"),
        ({"open_to": ("roof",)}, "change.gone", "open_to"),
        ({"id": "foot", "open_to": ("top-of-well",)}, "places.open_both_ways", "open_to"),
    ],
)
def test_a_wrong_place_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, a_place(**other)) == (id, field)


def a_way(**other: Any) -> KeepWay:
    plain = {"id": "old-stair", "name": "Old stair", "lower_id": "main-floor"}
    return KeepWay(**{**plain, "upper_id": "upper-floor", **other})


def test_a_changed_way_stays_open() -> None:
    after = pressed(WORLD, a_way(carries=False))
    assert after.ways["old-stair"].opened == on("Dec 1")
    assert not after.ways["old-stair"].carries


@pytest.mark.parametrize("floors", [("upper-floor", "main-floor"), ("main-floor", "main-floor")])
def test_a_way_leads_up(floors: tuple[str, str]) -> None:
    command = a_way(lower_id=floors[0], upper_id=floors[1])
    assert refused(WORLD, command) == ("places.way_goes_down", "upper_id")


def test_a_demo_s_clock_goes_forward_only() -> None:
    world = WORLD.with_changed("tallow-creek", frozen_at=NOW)
    assert pressed(world, MoveClock(to=on("Dec 4"))).company.frozen_at == on("Dec 4")
    assert refused(world, MoveClock(to=NOW)) == ("places.clock_back", "to")
    assert refused(world, MoveClock(to=on("Dec 2"))) == ("places.clock_back", "to")


def test_a_real_clock_is_not_set() -> None:
    assert refused(WORLD, MoveClock(to=on("Dec 4"))) == ("places.clock_is_real", "to")


def with_air(place: str, air: str) -> KeepPlace:
    known = WORLD.snapshot().places[place]
    return KeepPlace(
        id=place, name=known.name, floor_id=known.floor_id, open_to=known.open_to, air=air
    )


def test_places_that_share_air_name_it_in_the_same_letters() -> None:
    first = pressed(WORLD, with_air("landing", " Stair  well "))
    assert first.places["landing"].air == "Stair well"
    assert pressed(World(first), with_air("foot", "stair WELL")).places["foot"].air == "Stair well"


def test_a_long_name_for_air_is_refused() -> None:
    assert refused(WORLD, with_air("foot", "x" * 41)) == ("input.long_text", "air")
