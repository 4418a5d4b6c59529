"""Calendars that follow others: what they take over, what is their own, and what that moves."""

from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest

from server.core.calendar_days import calendar_days
from server.core.schedule.instants import EPOCH_DAY
from server.core.standing import standing
from server.core.visits import end_of
from server.core.world import WorkCalendar
from server.core.world.hours import calendar_of, joint_hours
from server.core.world.network import forecast
from tests.worlds import COMPANY, DAY, HOUR, World, a_project, on

SITE = [(7 * 60, 12 * 60), (12 * 60 + 30, 15 * 60 + 30)]
MONDAY, SATURDAY, CHRISTMAS = date(2025, 12, 1), date(2025, 12, 6), date(2025, 12, 25)
PLASTER, METAL = "Ninepail Plaster", "Ore Street Metal"


def a_house(**own: Any) -> World:
    """Two crews, each with two and a half days of work from Thursday on; metal's hours follow."""
    follows = {"id": "metal", "company_id": COMPANY, "name": "Metal", "shifts": ()}
    return (
        a_project(on("Dec 4"))
        .put(WorkCalendar(**{**follows, "based_on_id": "site", **own}))
        .with_crew(PLASTER)
        .with_crew(METAL, calendar_id="metal")
        .with_place("Garden stair")
        .with_detail("Garden stair rail")
        .with_task("Set stand-offs", 5 * DAY // 2, crew=METAL, place_id="garden-stair")
        .with_task("Hang board", 5 * DAY // 2, crew=PLASTER)
    )


def spans(world: World, id: str, day: date) -> list[tuple[int, int]]:
    return list(calendar_of(world.snapshot(), id).spans(day.toordinal() - EPOCH_DAY))


def finish(world: World, name: str) -> datetime:
    return forecast(world.snapshot(), on("Dec 4"))[name].early_finish


def test_what_a_follower_does_not_say_is_as_in_the_calendar_it_follows() -> None:
    world = a_house()
    assert spans(world, "metal", MONDAY) == SITE
    assert spans(world, "metal", SATURDAY) == []


def test_a_saturday_for_one_crew_moves_only_that_crews_work() -> None:
    plain, world = a_house(), a_house(extra=("2025-12-06 08:00 12:00",))
    assert finish(plain, "set-stand-offs") == on("Dec 8 11:00")
    assert finish(world, "set-stand-offs") == on("Dec 6 12:00")
    assert finish(world, "hang-board") == finish(plain, "hang-board")


def test_a_closed_day_added_later_to_what_is_followed_holds_for_the_crew_too() -> None:
    world = a_house()
    assert finish(world, "set-stand-offs") == on("Dec 8 11:00")
    closed = world.with_changed("site", closed=(date(2025, 12, 5),))
    assert finish(closed, "set-stand-offs") == on("Dec 9 11:00")
    assert finish(closed, "hang-board") == on("Dec 9 11:00")


def test_a_crew_can_work_though_the_house_is_closed() -> None:
    world = a_house(opened=(CHRISTMAS,)).with_changed("site", closed=(CHRISTMAS,))
    assert spans(world, "site", CHRISTMAS) == []
    assert spans(world, "metal", CHRISTMAS) == SITE


def test_a_week_of_its_own_is_kept_with_the_closed_days_of_the_other() -> None:
    world = a_house(shifts=("3 06:00 14:00",)).with_changed("site", closed=(CHRISTMAS,))
    assert spans(world, "metal", date(2025, 12, 4)) == [(6 * 60, 14 * 60)]
    assert spans(world, "metal", MONDAY) == []
    assert spans(world, "metal", CHRISTMAS) == []


def test_own_hours_of_a_day_beat_what_closes_it() -> None:
    world = a_house(extra=("2025-12-25 08:00 10:00",)).with_changed("site", closed=(CHRISTMAS,))
    assert spans(world, "metal", CHRISTMAS) == [(8 * 60, 10 * 60)]


def test_a_holiday_closes_and_one_opened_again_does_not() -> None:
    holidays = ("2025-12-25 Christmas Day", "2026-01-01 New Year's Day")
    world = a_house(holidays=holidays, opened=(CHRISTMAS,))
    assert spans(world, "metal", CHRISTMAS) == SITE
    assert spans(world, "metal", date(2026, 1, 1)) == []


def test_a_follower_of_a_follower_has_what_either_says() -> None:
    last = WorkCalendar(
        id="last", company_id=COMPANY, name="Last", shifts=(), based_on_id="metal",
        closed=(SATURDAY,),
    )  # fmt: skip
    world = a_house(extra=("2025-12-06 08:00 12:00", "2025-12-13 08:00 12:00")).put(last)
    assert spans(world, "last", SATURDAY) == []
    assert spans(world, "last", date(2025, 12, 13)) == [(8 * 60, 12 * 60)]
    assert spans(world, "last", MONDAY) == SITE


def test_joint_work_goes_by_the_days_of_both() -> None:
    world = a_house(extra=("2025-12-06 08:00 12:00",), closed=(MONDAY,))
    both = joint_hours(world.snapshot(), "metal+site")
    assert both.spans(SATURDAY.toordinal() - EPOCH_DAY) == ()
    assert both.spans(MONDAY.toordinal() - EPOCH_DAY) == ()


def test_where_people_stand_and_how_long_a_visit_is_go_by_the_followed_hours_too() -> None:
    world = a_house(extra=("2025-12-06 08:00 12:00",)).snapshot()
    stands = standing(world, forecast(world, on("Dec 4")), SATURDAY, 1)
    assert [(s.crew_id, s.start, s.finish) for s in stands] == [
        ("ore-street-metal", on("Dec 6 08:00"), on("Dec 6 12:00"))
    ]
    work = replace(world.activities["set-stand-offs"], work=6 * HOUR)
    assert end_of(world, (work,), on("Dec 5 13:30")) == on("Dec 6 12:00")


@pytest.mark.parametrize(
    ("own", "day", "says", "by", "name"),
    [
        ({}, MONDAY, "week", "site", ""),
        ({"shifts": ("0 07:00 12:00",)}, MONDAY, "week", "metal", ""),
        ({"closed": (MONDAY,), "named": ("2025-12-01 Fair",)}, MONDAY, "closed", "metal", "Fair"),
        ({"extra": ("2025-12-06 08:00 12:00",)}, SATURDAY, "hours", "metal", ""),
        ({}, CHRISTMAS, "holiday", "site", "Christmas Day"),
        ({"opened": (CHRISTMAS,)}, CHRISTMAS, "opened", "metal", ""),
    ],
)
def test_a_day_says_what_it_is_and_which_calendar_says_so(
    own: dict[str, Any], day: date, says: str, by: str, name: str
) -> None:
    world = a_house(**own).with_changed("site", holidays=("2025-12-25 Christmas Day",))
    (found,) = calendar_days(world.snapshot(), "metal", day, day)
    assert (found.says, found.calendar_id, found.name) == (says, by, name)
    assert list(found.spans) == spans(world, "metal", day)
