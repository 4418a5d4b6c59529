"""Calendars against numpy's business days."""

from datetime import date, datetime, timedelta
from random import Random

import numpy as np
import pytest

from server.core.schedule import Activity, Calendar, Network, compute

DAY = [("07:00", "12:00"), ("12:30", "15:30")]


@pytest.mark.parametrize("seed", range(40))
def test_work_in_whole_days_ends_on_the_business_day_that_numpy_counts(seed: int) -> None:
    random = Random(seed)
    open_days = sorted(random.sample(range(7), random.randint(1, 7)))
    first = date(2025, 1, 1) + timedelta(days=random.randrange(365))
    closed = {first + timedelta(days=random.randrange(60)) for _ in range(random.randint(0, 20))}
    calendar = Calendar.week(dict.fromkeys(open_days, DAY), closed)
    days = {f"{n} days": n for n in (1, 2, 5, 17, 60, 400)}
    schedule = compute(
        Network(
            [Activity(id, n * 480) for id, n in days.items()],
            [],
            {"site": calendar},
            datetime(first.year, first.month, first.day),
        )
    )
    week = [day in open_days for day in range(7)]
    for id, n in days.items():
        begin = np.busday_offset(first, 0, "forward", week, sorted(closed)).item()
        last = np.busday_offset(begin, n - 1, "forward", week, sorted(closed)).item()
        assert schedule[id].early_start == datetime(begin.year, begin.month, begin.day, 7)
        assert schedule[id].early_finish == datetime(last.year, last.month, last.day, 15, 30)
        # The longest ends last, so the float of the others is the business days in between.
        until = schedule.finish.date() + timedelta(days=1)
        between = np.busday_count(begin, until, week, sorted(closed))
        assert schedule[id].total_float == (int(between) - n) * 480


def test_joint_work_counts_the_days_that_both_work() -> None:
    mondays_to_thursdays = Calendar.week(dict.fromkeys(range(4), DAY), {date(2025, 12, 3)})
    wednesdays_on = Calendar.week(dict.fromkeys(range(2, 6), DAY), {date(2025, 12, 11)})
    schedule = compute(
        Network(
            [Activity("lift", 5 * 480, "joint")],
            [],
            {"joint": Calendar.both(mondays_to_thursdays, wednesdays_on)},
            datetime(2025, 12, 1, 7),
        )
    )
    closed = [date(2025, 12, 3), date(2025, 12, 11)]
    last = np.busday_offset(date(2025, 12, 1), 4, "forward", [0, 0, 1, 1, 0, 0, 0], closed)
    assert schedule.finish.date() == last.item()
