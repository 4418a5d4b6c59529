"""What happened, what is under way, and what is forecast from the status on."""

from datetime import timedelta

from server.core.schedule import Activity, Dependency, Kind
from tests.core.schedule.chains import (
    DAY,
    FRIDAY,
    MONDAY,
    NEXT_MONDAY,
    SATURDAY,
    SUNDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    computed,
    early,
    late,
)


def test_nothing_that_has_not_started_starts_before_the_status() -> None:
    schedule = computed([Activity("board", DAY)], status=at(WEDNESDAY, "09:00"))
    assert schedule["board"].early_start == at(WEDNESDAY, "09:00")


def test_what_is_finished_stays_where_it_was_and_is_never_critical() -> None:
    framed = Activity("frame", DAY, started=at(MONDAY), finished=at(MONDAY, "14:00"))
    schedule = computed([framed], status=at(TUESDAY))
    assert early(schedule, "frame") == late(schedule, "frame") == (at(MONDAY), at(MONDAY, "14:00"))
    assert schedule["frame"].total_float == schedule["frame"].free_float == 0
    assert not schedule["frame"].critical


def test_a_dependency_into_what_is_finished_binds_nothing_either_way() -> None:
    schedule = computed(
        [
            Activity("rough-in", DAY),
            Activity("board", DAY, started=at(MONDAY), finished=at(MONDAY, "15:30")),
            Activity("tile", 4 * DAY),
        ],
        [Dependency("rough-in", "board")],
        status=at(TUESDAY),
    )
    assert early(schedule, "board")[0] == at(MONDAY)
    assert schedule["rough-in"].total_float == schedule["rough-in"].free_float == 3 * DAY


def test_what_is_under_way_goes_on_at_the_status_with_what_remains() -> None:
    half = Activity("frame", 2 * DAY, started=at(MONDAY), remaining=60)
    schedule = computed([half], status=at(WEDNESDAY, "06:00"))
    assert early(schedule, "frame") == (at(MONDAY), at(WEDNESDAY, "08:00"))
    assert schedule["frame"].late_start == at(MONDAY)


def test_without_a_word_about_what_remains_it_is_the_work_less_the_time_since() -> None:
    schedule = computed(
        [Activity("frame", 2 * DAY, started=at(MONDAY))], status=at(TUESDAY, "09:00")
    )
    assert schedule.finish == at(TUESDAY, "15:30")


def test_work_that_should_be_over_but_is_not_ends_at_the_status() -> None:
    schedule = computed([Activity("frame", 60, started=at(MONDAY))], status=at(WEDNESDAY, "09:00"))
    assert schedule.finish == at(WEDNESDAY, "09:00")


def test_the_float_of_what_is_under_way_is_how_long_its_rest_may_take() -> None:
    schedule = computed(
        [Activity("frame", DAY, started=at(MONDAY), remaining=60), Activity("tile", DAY)],
        status=at(TUESDAY),
    )
    assert late(schedule, "frame") == (at(MONDAY), at(TUESDAY, "15:30"))
    assert schedule["frame"].total_float == DAY - 60


def test_what_comes_before_work_under_way_out_of_order_sees_when_it_goes_on() -> None:
    schedule = computed(
        [
            Activity("inspect wires", 60),
            Activity("board", DAY, started=at(MONDAY), remaining=4 * 60),
            Activity("tile", 2 * DAY),
        ],
        [Dependency("inspect wires", "board")],
        status=at(TUESDAY),
    )
    assert schedule["board"].early_finish == at(TUESDAY, "12:00")
    # The last four hours of Wednesday are soon enough for the rest of the board.
    assert schedule["inspect wires"].late_finish == at(WEDNESDAY, "11:00")


def test_the_start_of_what_has_started_binds_nothing_backward() -> None:
    schedule = computed(
        [Activity("frame", DAY, started=at(MONDAY), remaining=60), Activity("board", DAY)],
        [Dependency("frame", "board", "SS")],
        status=at(TUESDAY),
    )
    assert schedule["frame"].total_float == DAY - 60


def test_a_wait_starts_by_itself_in_the_past_too() -> None:
    schedule = computed(
        [
            Activity("pour", DAY, started=at(MONDAY), finished=at(MONDAY, "15:30")),
            Activity("cure", 2 * 1440, "clock", Kind.WAIT),
        ],
        [Dependency("pour", "cure")],
        status=at(TUESDAY, "12:00"),
    )
    assert early(schedule, "cure") == (at(MONDAY, "15:30"), at(WEDNESDAY, "15:30"))
    assert "cure" not in schedule.done


def test_a_wait_is_done_when_its_time_has_passed_and_all_before_it_is_done() -> None:
    poured = Activity("pour", DAY, started=at(MONDAY), finished=at(MONDAY, "15:30"))
    cure = Activity("cure", 1440, "clock", Kind.WAIT)
    chain = [Dependency("pour", "cure")]
    schedule = computed([poured, cure], chain, status=at(TUESDAY, "15:30"))
    assert schedule.done == {"pour", "cure"}
    assert late(schedule, "cure") == early(schedule, "cure")
    assert not schedule["cure"].critical


def test_a_wait_with_something_unfinished_before_it_is_not_done() -> None:
    schedule = computed(
        [
            Activity("pour", DAY, started=at(MONDAY), remaining=60),
            Activity("cure", 60, "clock", Kind.WAIT),
        ],
        [Dependency("pour", "cure", "SS")],
        status=at(TUESDAY),
    )
    assert schedule["cure"].early_finish == at(MONDAY, "08:00")
    assert schedule.done == frozenset()


def test_a_wait_never_starts_before_the_network_does() -> None:
    schedule = computed([Activity("acclimate", 60, "clock", Kind.WAIT)], status=at(FRIDAY))
    assert schedule["acclimate"].early_start == at(MONDAY)


def test_a_status_over_the_weekend_starts_work_on_monday() -> None:
    schedule = computed([Activity("tile", 60)], status=at(SATURDAY))
    assert schedule["tile"].early_start == at(NEXT_MONDAY)


def test_a_wait_that_ends_on_saturday_before_a_monday_crew_is_on_the_path_with_float() -> None:
    schedule = computed(
        [Activity("cure", 1440, "clock", Kind.WAIT), Activity("tile", DAY)],
        [Dependency("cure", "tile")],
        start=at(FRIDAY),
    )
    assert schedule.critical_path == ("cure", "tile")
    assert schedule["cure"].total_float == 2 * 1440
    assert schedule["cure"].free_float == 2 * 1440
    assert schedule["cure"].critical
    assert schedule["cure"].late_finish == at(SUNDAY) + timedelta(days=1)


def test_the_earlier_of_two_ends_has_float_and_is_not_critical() -> None:
    schedule = computed([Activity("short", DAY), Activity("long", 4 * DAY)])
    assert schedule.finish == at(THURSDAY, "15:30")
    assert schedule["short"].total_float == 3 * DAY
    assert not schedule["short"].critical
