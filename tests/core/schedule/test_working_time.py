"""How work, zero work, lags and bounds on the finish lie in working time."""

from dataclasses import replace
from datetime import date

import pytest

from server.core.schedule import Activity, Calendar, Dependency, Network, Refused, compute
from tests.core.schedule.chains import (
    DAY,
    FRIDAY,
    MONDAY,
    NEXT_MONDAY,
    NEXT_TUESDAY,
    SATURDAY,
    THURSDAY,
    TUESDAY,
    at,
    computed,
    early,
    late,
)


def test_work_is_one_run_over_a_weekend() -> None:
    schedule = computed([Activity("board", DAY)], start=at(FRIDAY, "12:30"))
    assert early(schedule, "board") == (at(FRIDAY, "12:30"), at(NEXT_MONDAY, "12:00"))


def test_work_ends_at_the_end_of_its_last_minute_not_at_the_next_start() -> None:
    assert computed([Activity("board", DAY)]).finish == at(MONDAY, "15:30")


def test_no_work_may_lie_at_the_end_of_a_shift() -> None:
    schedule = computed([Activity("look", 0)], start=at(FRIDAY, "15:30"))
    assert early(schedule, "look") == (at(FRIDAY, "15:30"), at(FRIDAY, "15:30"))


def test_no_work_in_a_gap_moves_to_the_next_start() -> None:
    schedule = computed([Activity("look", 0)], start=at(SATURDAY))
    assert schedule["look"].early_start == at(NEXT_MONDAY)


def test_no_work_moves_back_to_the_last_end_in_late_dates() -> None:
    schedule = computed(
        [Activity("look", 0), Activity("cure", 1440, "clock"), Activity("tile", DAY)],
        [Dependency("look", "cure"), Dependency("cure", "tile")],
        start=at(FRIDAY),
    )
    assert late(schedule, "cure") == (at(7), at(NEXT_MONDAY))
    assert late(schedule, "look") == (at(FRIDAY, "15:30"), at(FRIDAY, "15:30"))


def test_a_clock_lag_counts_every_minute() -> None:
    schedule = computed(
        [Activity("coat", DAY), Activity("next coat", 60)],
        [Dependency("coat", "next coat", lag=16 * 60)],
    )
    assert schedule["next coat"].early_start == at(TUESDAY, "07:30")


def test_a_working_lag_counts_on_the_calendar_of_what_follows() -> None:
    schedule = computed(
        [Activity("coat", 60, "clock"), Activity("look", 0)],
        [Dependency("coat", "look", lag=DAY, lag_on="work")],
        start=at(SATURDAY),
    )
    # From Saturday 8 am, eight working hours end on Monday afternoon, not Tuesday morning.
    assert schedule["look"].early_start == at(NEXT_MONDAY, "15:30")


def test_a_negative_working_lag_counts_back() -> None:
    schedule = computed(
        [Activity("board", 2 * DAY), Activity("tape", 60)],
        [Dependency("board", "tape", lag=-DAY, lag_on="work")],
    )
    assert schedule["tape"].early_start == at(TUESDAY)


def test_a_bound_on_the_finish_in_a_gap_means_the_next_minute_that_ends() -> None:
    schedule = computed(
        [Activity("cure", 5 * 60, "clock"), Activity("look after", DAY)],
        [Dependency("cure", "look after", "FF")],
        start=at(SATURDAY),
    )
    assert schedule["cure"].early_finish == at(SATURDAY, "12:00")
    # Started on Friday it would end at 7:01 on Monday; the start of the network holds it.
    assert early(schedule, "look after")[0] == at(NEXT_MONDAY)
    schedule = computed(
        [Activity("cure", 5 * 1440 + 300, "clock"), Activity("look after", DAY)],
        [Dependency("cure", "look after", "FF")],
    )
    assert early(schedule, "look after") == (at(FRIDAY, "07:01"), at(NEXT_MONDAY, "07:01"))


@pytest.mark.parametrize(
    ("type", "starts"),
    [
        ("FS", at(TUESDAY)),
        ("SS", at(MONDAY)),
        ("FF", at(MONDAY, "10:30")),
        ("SF", at(MONDAY)),
    ],
)
def test_each_type_binds_its_own_two_ends(type: str, starts: object) -> None:
    schedule = computed(
        [Activity("first", DAY), Activity("second", 4 * 60 + 30)],
        [Dependency("first", "second", type)],  # type: ignore[arg-type]
    )
    assert schedule["second"].early_start == starts


def test_a_coat_of_one_day_waits_for_a_morning() -> None:
    schedule = computed([Activity("coat", DAY, one_day=True)], start=at(FRIDAY, "08:00"))
    assert early(schedule, "coat") == (at(NEXT_MONDAY), at(NEXT_MONDAY, "15:30"))


def test_a_coat_of_one_day_has_late_dates_within_one_day() -> None:
    schedule = computed(
        [Activity("coat", 6 * 60, one_day=True), Activity("long", 9 * 60 + 2 * DAY)],
    )
    # The other ends on Thursday at 8 am, so Wednesday is the last day for the coat.
    assert schedule.finish == at(THURSDAY, "08:00")
    assert late(schedule, "coat") == (at(3, "09:00"), at(3, "15:30"))


def test_a_pour_too_long_for_the_week_takes_the_extra_day_that_holds_it() -> None:
    pours = Calendar.week(
        {day: [("07:00", "15:00")] for day in range(5)},
        extra={date(2025, 12, 6): [("05:00", "21:00")]},
    )
    network = Network(
        [Activity("pour", 12 * 60, one_day=True)], [], {"site": pours}, at(MONDAY)
    )  # fmt: skip
    assert early(compute(network), "pour") == (at(SATURDAY, "05:00"), at(SATURDAY, "17:00"))
    with pytest.raises(Refused) as refused:
        compute(replace(network, start=at(NEXT_MONDAY)))
    assert refused.value.id == "schedule.no_day_long_enough"


def test_a_pour_that_no_day_holds_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        computed([Activity("pour", DAY + 1, one_day=True)])
    assert refused.value.id == "schedule.no_day_long_enough"
    assert refused.value.values["activity"] == "pour"


def test_seconds_are_floored_to_the_minute() -> None:
    schedule = computed([Activity("board", 60)], start=at(MONDAY).replace(second=59))
    assert early(schedule, "board") == (at(MONDAY), at(MONDAY, "08:00"))


def test_work_that_should_have_begun_before_the_start_has_negative_float() -> None:
    schedule = computed([Activity("stringer", 60 * DAY, finish_by=at(NEXT_TUESDAY))])
    # By the 9th at 7 am, six days have been worked; sixty were needed.
    assert schedule["stringer"].total_float == -54 * DAY
    assert schedule["stringer"].late_start.year == 2025
    assert schedule["stringer"].critical


def test_an_empty_network_finishes_when_it_starts() -> None:
    schedule = computed([])
    assert schedule.finish == at(MONDAY)
    assert schedule.critical_path == ()
