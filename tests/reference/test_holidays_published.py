"""Public holidays against the laws that set them.

Federal: 5 U.S.C. 6103(a) names them by month and weekday. 6103(b)(1) keeps the Friday before for
one on a Saturday; Executive Order 11582 (1971), section 3, the Monday after for one on a Sunday.
Massachusetts: M.G.L. c. 4, s. 7, cl. 18th has Patriots' Day on the third Monday of April. The
weekdays below are counted from Python's proleptic calendar, not taken from the package.
"""

from calendar import Calendar
from datetime import date, timedelta

import pytest

from server.data.holidays import holidays_in

MON, THU = 0, 3
LAST = -1
MOVING = {
    # 6103(a): name -> month, weekday, which of the month
    "Martin Luther King Jr. Day": (1, MON, 3),
    "Washington's Birthday": (2, MON, 3),
    "Memorial Day": (5, MON, LAST),
    "Labor Day": (9, MON, 1),
    "Columbus Day": (10, MON, 2),
    "Thanksgiving Day": (11, THU, 4),
}
FIXED = {
    "New Year's Day": (1, 1),
    "Juneteenth National Independence Day": (6, 19),
    "Independence Day": (7, 4),
    "Veterans Day": (11, 11),
    "Christmas Day": (12, 25),
}
YEARS = range(2024, 2033)


def nth(year: int, month: int, weekday: int, number: int) -> date:
    weeks = Calendar().monthdatescalendar(year, month)
    days = [week[weekday] for week in weeks if week[weekday].month == month]
    return days[number if number == LAST else number - 1]


def free(place: str = "", years: range = YEARS) -> dict[date, str]:
    return {one.day: one.name for one in holidays_in("US", place, years)}


@pytest.mark.parametrize("year", YEARS)
def test_the_federal_days_that_fall_on_a_weekday_are_closed(year: int) -> None:
    found = free()
    for name, rule in MOVING.items():
        assert found[nth(year, *rule)] == name
    for name, (month, day) in FIXED.items():
        assert found[date(year, month, day)].startswith(name)


@pytest.mark.parametrize("year", YEARS)
def test_a_federal_day_on_a_weekend_is_kept_on_the_friday_or_the_monday(year: int) -> None:
    found = free(years=range(year - 1, year + 2))
    for month, day in FIXED.values():
        at = date(year, month, day)
        kept = {5: at - timedelta(days=1), 6: at + timedelta(days=1)}.get(at.weekday())
        if kept is not None:
            assert kept in found, (at, kept)


def test_no_other_weekday_is_a_federal_holiday_every_year() -> None:
    weekdays = [day for day in free(years=range(2026, 2027)) if day.weekday() < 5]
    assert len(weekdays) == len(MOVING) + len(FIXED)


@pytest.mark.parametrize("year", YEARS)
def test_massachusetts_keeps_patriots_day_and_the_country_does_not(year: int) -> None:
    third_monday = nth(year, 4, MON, 3)
    assert free("MA")[third_monday] == "Patriots' Day"
    assert third_monday not in free()
