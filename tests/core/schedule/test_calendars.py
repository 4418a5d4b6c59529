"""Which minutes are working minutes."""

from datetime import date, datetime

import pytest

from server.core.schedule import Activity, Calendar, Network, Refused, Schedule, compute

MONDAYS = {0: [("07:00", "15:00")]}
NOON = [("12:00", "13:00")]


def work_of(minutes: int, calendar: Calendar, start: datetime) -> Schedule:
    return compute(Network([Activity("work", minutes)], [], {"site": calendar}, start))


def test_a_closed_day_has_no_work() -> None:
    calendar = Calendar.week(MONDAYS, closed={date(2025, 12, 1)})
    schedule = work_of(60, calendar, datetime(2025, 12, 1))
    assert schedule.finish == datetime(2025, 12, 8, 8)


def test_an_extra_day_replaces_the_shifts_of_that_day() -> None:
    calendar = Calendar.week(MONDAYS, extra={date(2025, 12, 1): NOON})
    assert work_of(61, calendar, datetime(2025, 12, 1)).finish == datetime(2025, 12, 8, 7, 1)


def test_an_extra_day_beats_a_closed_one() -> None:
    day = date(2025, 12, 1)
    calendar = Calendar.week(MONDAYS, closed={day}, extra={day: NOON})
    assert work_of(60, calendar, datetime(2025, 12, 1)).finish == datetime(2025, 12, 1, 13)


def test_a_shift_may_end_at_midnight_and_the_next_begin_there() -> None:
    calendar = Calendar.week({0: [("20:00", "24:00")], 1: [("00:00", "04:00")]})
    assert work_of(480, calendar, datetime(2025, 12, 1)).finish == datetime(2025, 12, 2, 4)


def test_shifts_may_be_given_in_any_order() -> None:
    calendar = Calendar.week({0: [("12:30", "15:30"), ("07:00", "12:00")]})
    assert work_of(480, calendar, datetime(2025, 12, 1)).finish == datetime(2025, 12, 1, 15, 30)


def test_joint_work_counts_only_where_both_work() -> None:
    early, late = ({0: [span]} for span in (("06:00", "14:00"), ("12:00", "20:00")))
    joint = Calendar.both(Calendar.week(early), Calendar.week(late))
    assert work_of(120, joint, datetime(2025, 12, 1)).finish == datetime(2025, 12, 1, 14)


def test_joint_work_keeps_the_closed_days_of_each() -> None:
    closed = Calendar.week(MONDAYS, closed={date(2025, 12, 8)})
    joint = Calendar.both(Calendar.week(MONDAYS, closed={date(2025, 12, 1)}), closed)
    assert work_of(60, joint, datetime(2025, 12, 1)).finish == datetime(2025, 12, 15, 8)


def test_months_without_work_are_passed_over() -> None:
    winter = {date.fromordinal(date(2025, 12, 1).toordinal() + day) for day in range(400)}
    calendar = Calendar.week(MONDAYS, closed=winter)
    assert work_of(60, calendar, datetime(2025, 12, 1)).finish == datetime(2027, 1, 11, 8)


def test_a_calendar_without_gaps_and_a_clock_agree() -> None:
    whole_days = Calendar.week({day: [("00:00", "24:00")] for day in range(7)})
    gap_far_away = Calendar.week(whole_days_shifts(), closed={date(2030, 1, 1)})
    start = datetime(2025, 12, 1, 11, 11)
    finish = work_of(10_000, Calendar.always(), start).finish
    assert work_of(10_000, whole_days, start).finish == finish
    assert work_of(10_000, gap_far_away, start).finish == finish


def whole_days_shifts() -> dict[int, list[tuple[str, str]]]:
    return {day: [("00:00", "24:00")] for day in range(7)}


@pytest.mark.parametrize(
    ("shifts", "id"),
    [
        ({0: [("07:00", "12:00"), ("11:00", "15:00")]}, "schedule.shifts_overlap"),
        ({0: [("22:00", "02:00")]}, "schedule.shift_ends_first"),
        ({0: [("07:00", "07:00")]}, "schedule.shift_ends_first"),
        ({0: [("07:00", "24:01")]}, "schedule.bad_time"),
        ({0: [("7 am", "15:00")]}, "schedule.bad_time"),
        ({7: [("07:00", "12:00")]}, "schedule.bad_weekday"),
        ({0: []}, "schedule.empty_week"),
        ({}, "schedule.empty_week"),
    ],
)
def test_a_week_that_makes_no_sense_is_refused(
    shifts: dict[int, list[tuple[str, str]]], id: str
) -> None:
    with pytest.raises(Refused) as refused:
        Calendar.week(shifts)
    assert refused.value.id == id
    assert refused.value.field == "shifts"


def test_two_calendars_without_a_common_minute_are_refused() -> None:
    with pytest.raises(Refused) as refused:
        Calendar.both(Calendar.week(MONDAYS), Calendar.week({1: NOON}))
    assert refused.value.id == "schedule.empty_week"
