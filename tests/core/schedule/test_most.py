"""No longer than: what comes before starts later until it holds."""

from server.core.schedule import Activity, Dependency
from tests.core.schedule.chains import (
    DAY,
    FRIDAY,
    MONDAY,
    NEXT_MONDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    computed,
    early,
    late,
)

COATS = [Activity("first coat", 120), Activity("second coat", 120)]


def test_the_earlier_coat_is_held_back_until_the_later_is_near_enough() -> None:
    wet_on_wet = Dependency("first coat", "second coat", most=60)
    late_crew = Activity("second coat", 120, not_before=at(WEDNESDAY, "09:00"))
    schedule = computed([COATS[0], late_crew], [wet_on_wet])
    assert early(schedule, "second coat")[0] == at(WEDNESDAY, "09:00")
    assert early(schedule, "first coat")[1] == at(WEDNESDAY, "08:00")
    assert schedule.too_long == ()


def test_what_is_held_back_is_set_by_what_comes_after_it() -> None:
    wet_on_wet = Dependency("first coat", "second coat", most=60)
    late_crew = Activity("second coat", 120, not_before=at(WEDNESDAY, "09:00"))
    schedule = computed([COATS[0], late_crew], [wet_on_wet])
    driver = schedule["first coat"].driver
    assert driver is not None
    assert (driver.kind, driver.dependency) == ("most", wet_on_wet)
    assert schedule.path("first coat") == ("second coat", "first coat")


def test_over_a_weekend_the_earlier_coat_ends_in_the_first_minute_of_monday() -> None:
    coats = [Activity("first coat", 120), Activity("second coat", 120, one_day=True)]
    wet_on_wet = Dependency("first coat", "second coat", most=60)
    schedule = computed(coats, [wet_on_wet], start=at(FRIDAY, "12:30"))
    # The second no longer fits into Friday; an hour before it on Monday nobody works.
    assert early(schedule, "first coat") == (at(FRIDAY, "13:31"), at(NEXT_MONDAY, "07:01"))
    assert early(schedule, "second coat")[0] == at(NEXT_MONDAY, "07:01")


def test_a_most_that_cannot_hold_is_listed_and_left_out() -> None:
    schedule = computed(
        [Activity("prime", 60), Activity("dry", 3 * 1440, "clock"), Activity("coat", 60)],
        [
            Dependency("prime", "dry"),
            Dependency("dry", "coat"),
            Dependency("prime", "coat", most=1440),
        ],
    )
    assert [(d.before, d.after) for d in schedule.too_long] == [("prime", "coat")]
    assert early(schedule, "prime")[0] == at(MONDAY)
    assert early(schedule, "coat")[0] == at(THURSDAY, "08:00")


def test_a_most_after_something_finished_that_has_passed_is_too_long() -> None:
    schedule = computed(
        [
            Activity("first coat", 120, started=at(MONDAY), finished=at(MONDAY, "09:00")),
            Activity("second coat", 120),
        ],
        [Dependency("first coat", "second coat", most=60)],
        status=at(TUESDAY),
    )
    assert len(schedule.too_long) == 1


def test_a_most_between_finished_things_is_past_judging() -> None:
    schedule = computed(
        [
            Activity("first coat", 120, started=at(MONDAY), finished=at(MONDAY, "09:00")),
            Activity("second coat", 120, started=at(TUESDAY), finished=at(TUESDAY, "09:00")),
        ],
        [Dependency("first coat", "second coat", most=60)],
        status=at(TUESDAY, "09:00"),
    )
    assert schedule.too_long == ()


def test_late_dates_and_free_float_keep_it_too() -> None:
    schedule = computed(
        [*COATS, Activity("tile", 3 * DAY)],
        [Dependency("first coat", "second coat", most=60)],
    )
    # Both may slip to Wednesday together, but the second alone only by its hour.
    assert late(schedule, "second coat")[1] == at(WEDNESDAY, "15:30")
    assert schedule["first coat"].total_float == 3 * DAY - 240
    assert schedule["second coat"].total_float == 3 * DAY - 240
    assert schedule["second coat"].free_float == 60


def test_the_late_date_of_the_later_is_capped_by_a_fixed_earlier_one() -> None:
    schedule = computed(
        [Activity("prime", 60, finish_by=at(MONDAY, "08:00")), COATS[1], Activity("tile", DAY)],
        [Dependency("prime", "second coat", most=60)],
    )
    assert late(schedule, "second coat")[0] == at(MONDAY, "09:00")
