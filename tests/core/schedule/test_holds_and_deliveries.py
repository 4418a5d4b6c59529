"""Notice before a look; deliveries ordered, promised, overdue."""

from dataclasses import replace

from server.core.schedule import Activity, Calendar, Dependency, Kind, Network, Schedule, compute
from tests.core.schedule.chains import (
    DAY,
    FRIDAY,
    MONDAY,
    NEXT_MONDAY,
    SITE,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    computed,
    early,
    late,
)

LOOK = Activity("look", 0, kind=Kind.HOLD, notice=2 * 1440)
GLASS = Activity("glass", 4 * 1440, "clock", Kind.DELIVERY)


def test_a_look_not_called_for_is_its_notice_after_the_status() -> None:
    assert computed([LOOK], status=at(TUESDAY))["look"].early_start == at(THURSDAY)


def test_a_look_called_for_is_its_notice_after_the_call() -> None:
    called = replace(LOOK, called=at(MONDAY, "10:00"))
    assert computed([called], status=at(TUESDAY))["look"].early_start == at(WEDNESDAY, "10:00")


def test_looking_takes_the_time_that_it_takes() -> None:
    schedule = computed([replace(LOOK, work=60, notice=0)], status=at(TUESDAY))
    assert schedule.finish == at(TUESDAY, "08:00")


def glass(delivery: Activity, *, status: int = TUESDAY, measuring: int = DAY) -> Schedule:
    """Measured on Monday (or longer), then the delivery, then set."""
    finished = at(MONDAY, "15:30") if measuring == DAY else None
    measure = Activity("measure", measuring, started=at(MONDAY), finished=finished)
    return computed(
        [measure, delivery, Activity("set", DAY)],
        [Dependency("measure", "glass"), Dependency("glass", "set")],
        status=at(status),
    )


def test_not_ordered_it_starts_at_the_status_and_takes_its_lead() -> None:
    assert early(glass(GLASS), "glass") == (at(TUESDAY), at(6))


def test_not_ordered_it_starts_when_it_is_measured_if_that_is_later() -> None:
    assert early(glass(GLASS, measuring=2 * DAY), "glass")[0] == at(TUESDAY, "15:30")


def test_ordered_it_arrives_its_lead_after_the_order() -> None:
    ordered = replace(GLASS, ordered=at(MONDAY, "16:00"))
    assert early(glass(ordered), "glass") == (at(MONDAY, "16:00"), at(FRIDAY, "16:00"))


def test_the_lead_counts_on_its_own_calendar() -> None:
    ordered = replace(GLASS, calendar="site", work=5 * DAY, ordered=at(TUESDAY))
    assert early(glass(ordered), "glass")[1] == at(NEXT_MONDAY, "15:30")


def test_a_promised_date_beats_the_lead_either_way() -> None:
    soon = replace(GLASS, ordered=at(MONDAY, "16:00"), promised=at(WEDNESDAY))
    assert glass(soon)["glass"].early_finish == at(WEDNESDAY)
    assert glass(replace(soon, promised=at(20)))["glass"].early_finish == at(20)


def test_what_has_not_arrived_does_not_arrive_before_the_status() -> None:
    promised = replace(GLASS, ordered=at(MONDAY, "16:00"), promised=at(WEDNESDAY))
    schedule = glass(promised, status=FRIDAY)
    assert schedule["glass"].early_finish == at(FRIDAY)
    assert schedule["set"].early_start == at(FRIDAY)


def test_it_does_not_arrive_before_what_it_is_measured_from() -> None:
    promised = replace(GLASS, promised=at(WEDNESDAY))
    schedule = glass(promised, measuring=4 * DAY)
    assert schedule["glass"].early_finish == at(THURSDAY, "15:30")


def test_it_must_be_ordered_its_lead_before_its_late_finish() -> None:
    for delivery in (GLASS, replace(GLASS, promised=at(NEXT_MONDAY))):
        schedule = glass(replace(delivery, finish_by=at(NEXT_MONDAY)))
        assert late(schedule, "glass") == (at(THURSDAY), at(NEXT_MONDAY))


def test_the_float_of_what_is_ordered_is_how_long_its_arrival_may_slip() -> None:
    ordered = replace(GLASS, ordered=at(MONDAY, "16:00"), promised=at(WEDNESDAY))
    schedule = computed(
        [ordered, Activity("set", DAY), Activity("tile", 9 * DAY)],
        [Dependency("glass", "set")],
        status=at(TUESDAY),
    )
    assert schedule["glass"].free_float == 0
    assert schedule["glass"].total_float == (12 - 3) * 1440
    assert schedule["glass"].late_start == at(MONDAY, "16:00")


def test_a_promise_or_an_order_is_where_the_way_back_stops() -> None:
    promised = replace(GLASS, promised=at(FRIDAY))
    ordered = replace(GLASS, ordered=at(MONDAY, "16:00"))
    for delivery, kind in ((promised, "promised"), (ordered, "actual")):
        schedule = glass(delivery)
        driver = schedule["glass"].driver
        assert driver is not None
        assert driver.kind == kind
        assert schedule.critical_path == ("glass", "set")


def test_what_has_arrived_is_done() -> None:
    arrived = replace(GLASS, ordered=at(MONDAY, "16:00"), finished=at(WEDNESDAY, "10:00"))
    schedule = glass(arrived, status=THURSDAY)
    assert early(schedule, "glass") == (at(MONDAY, "16:00"), at(WEDNESDAY, "10:00"))
    assert "glass" in schedule.done


def test_a_late_measurement_sees_how_late_a_promised_arrival_may_be() -> None:
    schedule = compute(
        Network(
            [
                Activity("measure", 60),
                replace(GLASS, promised=at(WEDNESDAY)),
                Activity("set", DAY, finish_by=at(FRIDAY, "15:30")),
            ],
            [Dependency("measure", "glass"), Dependency("glass", "set")],
            {"site": SITE, "clock": Calendar.always()},
            at(MONDAY),
        )
    )
    assert late(schedule, "glass")[1] == schedule["set"].late_start
    assert schedule["measure"].late_finish <= schedule["glass"].late_finish
