"""Days of a calendar set apart, its holidays, and a crew's own hours."""

from datetime import date
from typing import Any

import pytest

from server.core.changes.calendars import DropCalendar, GiveCrewHours, KeepHolidays, SetDays
from server.core.changes.places import KeepCalendar
from server.core.changes.rules_calendars import worked_holidays
from server.core.world import Snapshot, WorkCalendar
from server.core.world.hours import names_of
from tests.core.changes.pressing import pressed, refused
from tests.worlds import COMPANY, DAY, World, a_project

FRIDAY, SATURDAY, CHRISTMAS = date(2025, 12, 5), date(2025, 12, 6), date(2025, 12, 25)
CREW = "Ore Street Metal"
WORLD = (
    a_project()
    .put(
        WorkCalendar(
            id="metal", company_id=COMPANY, name="Metal", shifts=(), based_on_id="site",
        )
    )
    .with_crew(CREW)
    .with_changed("site", holidays=("2025-12-25 Christmas Day",), holidays_of="US")
)  # fmt: skip


def days(id: str, to: str, first: date, last: date | None = None, **other: Any) -> SetDays:
    return SetDays(calendar_id=id, first=first, last=last or first, to=to, **other)


def after(world: World, *commands: Any) -> Snapshot:
    snapshot = world.snapshot()
    for command in commands:
        snapshot = pressed(World(snapshot), command)
    return snapshot


def test_a_day_is_closed_with_what_for_and_set_back() -> None:
    closed = after(WORLD, days("site", "closed", FRIDAY, name=" Town  fair "))
    assert closed.calendars["site"].closed == (FRIDAY,)
    assert names_of(closed.calendars["site"]) == {FRIDAY: "Town fair"}
    back = after(World(closed), days("site", "week", FRIDAY)).calendars["site"]
    assert (back.closed, back.named, back.opened) == ((), (), ())


def test_own_hours_replace_what_was_set_before() -> None:
    made = after(
        WORLD,
        days("site", "closed", SATURDAY),
        days("site", "hours", SATURDAY, shifts=("08:00 12:00", "13:00 15:00")),
    ).calendars["site"]
    assert made.closed == ()
    assert made.extra == ("2025-12-06 08:00 12:00", "2025-12-06 13:00 15:00")


def test_many_days_are_closed_in_one_go_the_last_too() -> None:
    made = after(WORLD, days("site", "closed", date(2025, 12, 29), date(2026, 1, 2), name="Break"))
    assert made.calendars["site"].closed[-1] == date(2026, 1, 2)
    assert len(made.calendars["site"].closed) == 5


def test_a_holiday_is_opened_by_the_week_and_closed_again() -> None:
    opened = after(WORLD, days("site", "week", CHRISTMAS))
    assert opened.calendars["site"].opened == (CHRISTMAS,)
    again = after(World(opened), days("site", "closed", CHRISTMAS)).calendars["site"]
    assert (again.opened, again.closed) == ((), ())


def test_a_crew_works_though_the_house_is_closed_until_it_is_as_the_house_again() -> None:
    opened = after(WORLD, days("metal", "week", CHRISTMAS))
    assert opened.calendars["metal"].opened == (CHRISTMAS,)
    back = after(World(opened), days("metal", "followed", CHRISTMAS)).calendars["metal"]
    assert back.opened == ()


@pytest.mark.parametrize(
    ("command", "id", "field"),
    [
        (days("site", "hours", FRIDAY), "calendars.no_hours", "hours"),
        (days("site", "hours", FRIDAY, shifts=("12:00 08:00",)),
         "schedule.shift_ends_first", "extra"),
        (days("site", "followed", FRIDAY), "calendars.follows_none", "to"),
        (days("site", "half", FRIDAY), "input.not_a_choice", "to"),
        (days("site", "closed", SATURDAY, FRIDAY), "calendars.backward", "last"),
        (days("site", "closed", FRIDAY, date(2027, 12, 5)), "calendars.too_many_days", "last"),
        (days("site", "closed", date(2065, 1, 1)), "input.far_off", "first"),
        (days("none", "closed", FRIDAY), "change.gone", "calendar_id"),
        (days("site", "closed", FRIDAY, name="x" * 61), "input.long_text", "note"),
        (KeepHolidays(calendar_id="site", place="Utah"), "calendars.no_place", "country"),
        (KeepCalendar(id="site", name="Site week", shifts=(), based_on_id="metal"),
         "calendars.follows_itself", "based_on_id"),
        (KeepCalendar(id="metal", name="Metal", shifts=(), based_on_id="metal"),
         "calendars.follows_itself", "based_on_id"),
        (KeepCalendar(id="metal", name="Metal", shifts=()), "schedule.empty_week", "shifts"),
        (DropCalendar(calendar_id="site"), "calendars.kept_by", "calendar_id"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_beside_its_field(command: Any, id: str, field: str) -> None:
    assert refused(WORLD, command) == (id, field)


def test_another_place_replaces_its_holidays_and_keeps_what_was_set_by_hand() -> None:
    new_year = "2026-01-01 New Year's Day"
    made = after(
        WORLD,
        days("site", "closed", FRIDAY),
        days("site", "week", CHRISTMAS),
        KeepHolidays(calendar_id="site", place="US-MA", days=(new_year, "2025-12-25 Christmas Day",
                                                              "2026-04-20 Patriots' Day")),
    ).calendars["site"]  # fmt: skip
    assert made.holidays_of == "US-MA"
    assert len(made.holidays) == 3
    assert made.closed == (FRIDAY,)


def test_one_day_opened_stays_open_when_its_holiday_still_closes_in_other_years() -> None:
    lines = ("2025-12-25 Christmas Day", "2026-12-25 Christmas Day")
    keep = KeepHolidays(calendar_id="site", place="US", days=lines)
    made = after(WORLD, keep, days("site", "week", CHRISTMAS), keep).calendars["site"]
    assert made.opened == (CHRISTMAS,)
    assert worked_holidays(made) == frozenset()


def test_a_holiday_that_people_work_is_open_in_every_year_until_it_closes_again() -> None:
    lines = ("2025-10-13 Columbus Day", "2026-10-12 Columbus Day", "2026-12-25 Christmas Day")
    keep = {"calendar_id": "site", "place": "US", "days": lines}
    worked = after(WORLD, KeepHolidays(**keep, worked=("Columbus Day",)))
    assert worked.calendars["site"].opened == (date(2025, 10, 13), date(2026, 10, 12))
    assert worked_holidays(worked.calendars["site"]) == {"Columbus Day"}
    assert after(World(worked), KeepHolidays(**keep)).calendars["site"].opened == ()


def test_a_crews_own_hours_are_named_after_it_and_follow_what_it_kept() -> None:
    made = after(WORLD, GiveCrewHours(id="own", crew_id="ore-street-metal", follows_id="site"))
    own = made.calendars["own"]
    assert (own.name, own.based_on_id, own.shifts) == (CREW, "site", ())
    assert made.crews["ore-street-metal"].calendar_id == "own"


def test_a_second_calendar_of_that_name_gets_a_number() -> None:
    give = {"crew_id": "ore-street-metal", "follows_id": "site"}
    made = after(WORLD, GiveCrewHours(id="a", **give), GiveCrewHours(id="b", **give))
    assert made.calendars["b"].name == f"{CREW} 2"


def test_a_calendar_that_nobody_keeps_can_go() -> None:
    assert "metal" not in after(WORLD, DropCalendar(calendar_id="metal")).calendars


@pytest.mark.parametrize("by", ["crew", "task", "calendar"])
def test_a_calendar_that_is_kept_or_followed_cannot(by: str) -> None:
    world = {
        "crew": WORLD.with_changed(CREW, calendar_id="metal"),
        "task": WORLD.with_detail("Rail").with_task("Weld", DAY, calendar_id="metal"),
        "calendar": WORLD.put(
            WorkCalendar(id="m2", company_id=COMPANY, name="M2", shifts=(), based_on_id="metal")
        ),
    }[by]
    assert refused(world, DropCalendar(calendar_id="metal"))[0] == "calendars.kept_by"


def test_keeping_the_week_leaves_the_days_alone() -> None:
    made = after(
        WORLD,
        days("site", "closed", FRIDAY),
        KeepCalendar(id="site", name="Site", shifts=("0 07:00 12:00",)),
    ).calendars["site"]
    assert (made.name, made.closed) == ("Site", (FRIDAY,))
