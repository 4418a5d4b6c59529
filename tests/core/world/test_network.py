"""What checks, invited looks, deliveries, joint work and fresh facts mean for the dates."""

from dataclasses import replace

from server.core.world import WorkCalendar
from server.core.world.clock import status_of
from server.core.world.network import forecast, network_of
from tests.worlds import CLOCK_DAY, COMPANY, DAY, HOUR, a_project, on

WORLD = a_project().with_crew("Ninepail Plaster", trade="plaster").with_detail("Garden stair rail")


def test_work_goes_on_the_hours_of_its_crew_and_else_of_the_site() -> None:
    late = WorkCalendar(id="late", company_id=COMPANY, name="Late", shifts=("0 10:00 18:00",))
    world = (
        WORLD.put(late)
        .with_changed("Ninepail Plaster", calendar_id="late")
        .with_task("Base coat", crew="Ninepail Plaster")
        .with_task("Hang board")
    )
    schedule = forecast(world.snapshot(), on("Dec 1"))
    assert schedule["base-coat"].early_start == on("Dec 1 10:00")
    assert schedule["hang-board"].early_start == on("Dec 1 7:00")


def test_joint_work_goes_only_where_all_its_crews_work() -> None:
    late = WorkCalendar(id="late", company_id=COMPANY, name="Late", shifts=("0 10:00 18:00",))
    world = (
        WORLD.put(late)
        .with_crew("Hobnail Millwork", calendar_id="late")
        .with_task("Dry-fit", HOUR, crew="Ninepail Plaster", with_crew_ids=("hobnail-millwork",))
    )
    schedule = forecast(world.snapshot(), on("Dec 1"))
    assert schedule["dry-fit"].early_start == on("Dec 1 10:00")


def test_crews_whose_hours_have_come_apart_leave_the_forecast_standing() -> None:
    sunday = WorkCalendar(id="sunday", company_id=COMPANY, name="Sunday", shifts=("6 08:00 12:00",))
    world = (
        WORLD.put(sunday)
        .with_crew("Hobnail Millwork", calendar_id="sunday")
        .with_task("Dry-fit", HOUR, crew="Ninepail Plaster", with_crew_ids=("hobnail-millwork",))
    )
    assert forecast(world.snapshot(), on("Dec 1"))["dry-fit"].early_start == on("Dec 1")


def test_one_go_that_no_day_is_long_enough_for_any_more_spans_days() -> None:
    world = WORLD.with_task("Finish coat", 2 * DAY, one_day=True)
    assert forecast(world.snapshot(), on("Dec 1")).finish == on("Dec 2 15:30")


def test_a_wait_runs_over_the_weekend() -> None:
    world = WORLD.with_wait("Base coat dries", 3 * CLOCK_DAY)
    assert forecast(world.snapshot(), on("Dec 5")).finish == on("Dec 4")


def test_what_was_recorded_since_the_status_was_floored_counts_as_of_the_status() -> None:
    now = on("Dec 3 10:52")
    world = WORLD.with_task("Hang board", started=now).with_task("Lath", started=now, finished=now)
    schedule = forecast(world.snapshot(), status_of(now))
    assert schedule["hang-board"].early_start == on("Dec 3 10:45")
    assert "lath" in schedule.done


def test_a_check_that_is_not_called_yet_needs_its_notice_from_now() -> None:
    world = WORLD.with_check("Rough inspection", notice=2 * CLOCK_DAY)
    assert forecast(world.snapshot(), on("Dec 3"))["rough-inspection"].early_start == on("Dec 5")


def test_a_check_that_was_called_needs_its_notice_from_the_call() -> None:
    world = WORLD.with_check("Rough inspection", notice=2 * CLOCK_DAY, called=on("Dec 2"))
    assert forecast(world.snapshot(), on("Dec 3"))["rough-inspection"].early_start == on("Dec 4")


def test_an_invited_look_stops_nobody_and_what_it_looks_at_still_comes_first() -> None:
    world = (
        WORLD.with_task("Set the stand-offs")
        .with_check("Owner looks", after="Set the stand-offs", witness=True, notice=9 * CLOCK_DAY)
        .with_task("Hang board", after="Owner looks")
    )
    schedule = forecast(world.snapshot(), on("Dec 1"))
    assert schedule["hang-board"].early_start == on("Dec 2")
    done = world.with_changed("Set the stand-offs", started=on("Dec 1"), finished=on("Dec 1 15:30"))
    assert forecast(done.snapshot(), on("Dec 2"))["hang-board"].ready


def test_two_invited_looks_in_a_row_stop_nobody_either() -> None:
    world = (
        WORLD.with_task("Set the stand-offs")
        .with_check("Owner looks", after="Set the stand-offs", witness=True)
        .with_check("Architect looks", after="Owner looks", witness=True)
        .with_task("Hang board", after="Architect looks")
    )
    pairs = {(d.before, d.after) for d in network_of(world.snapshot(), on("Dec 1")).dependencies}
    assert ("set-the-stand-offs", "hang-board") in pairs


def test_a_delivery_that_has_arrived_is_here_though_it_was_never_ordered() -> None:
    world = WORLD.with_delivery("Stand-offs", finished=on("Dec 2")).with_task(
        "Set the stand-offs", after="Stand-offs"
    )
    schedule = forecast(world.snapshot(), on("Dec 2"))
    assert schedule["set-the-stand-offs"].ready


def test_a_delivery_comes_on_the_day_it_was_promised_for() -> None:
    world = WORLD.with_delivery("Rail", ordered=on("Dec 1"), promised=on("Dec 19"))
    assert forecast(world.snapshot(), on("Dec 3")).finish == on("Dec 19")


def test_a_decision_holds_what_comes_after_it_until_it_is_made() -> None:
    world = WORLD.with_decision("Profile").with_task("Blocking", after="Profile")
    assert not forecast(world.snapshot(), on("Dec 3"))["blocking"].ready
    made = world.with_changed("Profile", finished=on("Dec 2"), answer="Round")
    assert forecast(made.snapshot(), on("Dec 3"))["blocking"].ready


def test_what_has_ended_is_not_in_the_network() -> None:
    world = WORLD.with_task("Lath").with_task("Hang board", after="Lath")
    ended = world.with_changed("Lath", ended=on("Dec 2"))
    network = network_of(ended.snapshot(), on("Dec 3"))
    assert [a.id for a in network.activities] == ["hang-board"]
    assert not network.dependencies


def test_the_schedule_says_as_of_when_it_is() -> None:
    world = WORLD.with_task("Lath")
    assert forecast(world.snapshot(), on("Dec 3 10:45")).status == on("Dec 3 10:45")


def test_forecasting_changes_nothing() -> None:
    snapshot = WORLD.with_task("Lath").snapshot()
    kept = replace(snapshot)
    forecast(snapshot, on("Dec 3"))
    assert snapshot == kept
