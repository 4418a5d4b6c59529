"""What happened: started, done, what remains, what was recorded by mistake."""

from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from server.core.changes import change
from server.core.changes.actuals import Finish, SetRemaining, Start
from server.core.changes.held import Held
from server.core.world import WorkCalendar
from server.core.world.hours import remains
from server.core.world.network import forecast
from server.words import say
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, COMPANY, DAY, HOUR, World, a_project, actor, on

METAL, PLASTER = "Ore Street Metal", "Ninepail Plaster"
LEAD = "Ninepail Plaster lead"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2 13:00")}
WORLD = (
    a_project()
    .with_changed("Rufus Orme", phone="555 0100")
    .with_crew(METAL, trade="metal")
    .with_crew(PLASTER, trade="plaster")
    .with_person("Ada Quill", phone="555 0123")
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs", "steel", parts=3)
    .with_task("Set the stand-offs", crew=METAL, puts_in="Stand-offs", **DONE)
    .with_check("Height", after="Set the stand-offs", layers="Stand-offs", marks=METAL, parts=3)
    .with_task("Hang board", crew=PLASTER, after="Height", covers="Stand-offs")
    .with_task("Base coat", crew=PLASTER, after="Hang board")
)
START = Start(activity_id="hang-board", when=on("Dec 3 10:00"))
FINISH = Finish(activity_id="hang-board", when=on("Dec 3 10:30"))
RELEASED = WORLD.with_attempt("Height", "released", decided_by_id="rufus-orme").with_changed(
    "Height", started=on("Dec 3 8:00"), finished=on("Dec 3 8:00")
)
UNDER_WAY = RELEASED.with_changed("Hang board", started=on("Dec 3 9:00"))


def left_out(*parts: int, started: datetime | None = None) -> World:
    world = WORLD.with_attempt("Height", "released", left_out=parts)
    released = world.with_changed("Height", started=on("Dec 3 8:00"), finished=on("Dec 3 8:00"))
    return released.with_changed("Hang board", started=started)


def held(world: World, command: Any, who: str = LEAD) -> tuple[Held, str]:
    """The refusal of what a check holds, and its sentence."""
    before = world.snapshot()
    with pytest.raises(Held) as caught:
        change(before, actor(before, who), command, NOW)
    return caught.value, say(caught.value.message)


# -- started ------------------------------------------------------------------------------------


def test_a_crew_starts_what_is_ready() -> None:
    assert pressed(RELEASED, START, LEAD).activities["hang-board"].started == on("Dec 3 10:00")


def test_a_start_is_kept_to_the_minute() -> None:
    when = on("Dec 3 10:00").replace(second=41, microsecond=7)
    after = pressed(RELEASED, replace(START, when=when), LEAD)
    assert after.activities["hang-board"].started == on("Dec 3 10:00")


def test_what_starts_now_is_under_way_though_the_status_is_a_few_minutes_old() -> None:
    after = pressed(RELEASED, replace(START, when=NOW), LEAD)
    assert forecast(after, on("Dec 3 10:45"))["hang-board"].early_start == on("Dec 3 10:45")


def test_whoever_starts_behind_a_check_is_told_which_whose_and_how_to_reach_them() -> None:
    refusal, said = held(WORLD, START)
    assert refusal.id == "actuals.held_call"
    assert (refusal.hold_id, refusal.person_id) == ("height-check", "rufus-orme")
    assert all(told in said for told in ("Height", "Rufus Orme", "555 0100"))


def test_a_check_that_is_somebody_elses_names_that_person() -> None:
    refusal, said = held(WORLD.with_changed("height-check", releases_id="ada-quill"), START)
    assert refusal.person_id == "ada-quill"
    assert "Ada Quill" in said
    assert "555 0123" in said


def test_whoever_has_no_phone_is_named_all_the_same() -> None:
    world = WORLD.with_changed("Ada Quill", phone="")
    refusal, said = held(world.with_changed("height-check", releases_id="ada-quill"), START)
    assert refusal.id == "actuals.held"
    assert "Ada Quill" in said


def test_an_outside_look_names_who_calls_for_it() -> None:
    refusal, said = held(WORLD.with_changed("height-check", authority=True), START)
    assert refusal.id == "actuals.held_outside_call"
    assert "Rufus Orme" in said


def test_a_check_far_back_holds_through_what_is_done() -> None:
    world = WORLD.with_changed("Hang board", **DONE)
    refusal, _ = held(world, replace(START, activity_id="base-coat"))
    assert refusal.hold_id == "height-check"


def test_the_super_is_asked_for_a_reason() -> None:
    assert refused(WORLD, START) == ("actuals.held_by_you", "anyway")


def test_the_super_records_that_it_started_anyway_with_the_reason() -> None:
    started = pressed(WORLD, replace(START, anyway="They were on it at 7")).activities["hang-board"]
    assert (started.started, started.anyway) == (on("Dec 3 10:00"), "They were on it at 7")


def test_a_crew_cannot_start_anyway() -> None:
    assert held(WORLD, replace(START, anyway="We are here"))[0].hold_id == "height-check"


def test_a_reason_that_was_not_needed_is_not_kept_as_a_fact() -> None:
    assert pressed(RELEASED, replace(START, anyway="why not")).activities["hang-board"].anyway == ""


def test_what_is_not_done_before_it_holds_a_start() -> None:
    command = replace(START, activity_id="base-coat")
    assert refused(RELEASED, command, LEAD) == ("actuals.not_yet", "anyway")


def test_a_start_is_not_recorded_for_a_time_at_which_the_check_still_held() -> None:
    command = replace(START, when=on("Dec 3 7:30"))
    assert refused(RELEASED, command, LEAD) == ("actuals.too_soon", "anyway")


def test_the_clock_time_between_two_tasks_holds_a_start() -> None:
    world = UNDER_WAY.with_changed("Hang board", finished=on("Dec 3 9:30")).with_changed(
        "Hang board>Base coat", lag=2 * HOUR
    )
    command = Start(activity_id="base-coat", when=NOW)
    assert refused(world, command, LEAD) == ("actuals.too_soon", "anyway")
    shorter = world.with_changed("Hang board>Base coat", lag=HOUR)
    assert pressed(shorter, command, LEAD).activities["base-coat"].started == NOW


def test_the_working_time_between_two_tasks_holds_a_start() -> None:
    world = UNDER_WAY.with_changed("Hang board", finished=on("Dec 3 9:30"))
    between = world.with_changed("Hang board>Base coat", lag=2 * HOUR, lag_on="work")
    command = Start(activity_id="base-coat", when=NOW)
    assert refused(between, command, LEAD) == ("actuals.time_between", "anyway")


def test_a_planned_date_holds_nobody_who_can_start() -> None:
    world = RELEASED.with_changed("Hang board", not_before=on("Dec 9"))
    assert pressed(world, START, LEAD).activities["hang-board"].started == on("Dec 3 10:00")


def test_an_invited_look_holds_nobody() -> None:
    world = WORLD.with_changed("height-check", witness=True)
    assert pressed(world, START, LEAD).activities["hang-board"].started


def test_the_start_of_work_that_is_only_over_parts_left_out_is_held() -> None:
    world = left_out(3).with_changed("Hang board-covers-Stand-offs", parts=(3,))
    assert held(world, START)[0].hold_id == "height-check"
    other = left_out(3).with_changed("Hang board-covers-Stand-offs", parts=(2, 3))
    assert pressed(other, START, LEAD).activities["hang-board"].started


@pytest.mark.parametrize(
    ("when", "why"),
    [
        (on("Dec 3 11:00"), "actuals.in_the_future"),
        (on("Dec 3").replace(year=2023), "actuals.long_before"),
    ],
)
def test_a_start_happened_and_not_long_before_the_house(when: datetime, why: str) -> None:
    assert refused(RELEASED, replace(START, when=when), LEAD) == (why, "when")


def test_work_starts_once() -> None:
    assert refused(UNDER_WAY, START, LEAD)[0] == "actuals.started_already"


@pytest.mark.parametrize("kind", ["wait", "hold", "delivery", "decision"])
def test_only_a_task_is_started(kind: str) -> None:
    world = RELEASED.with_changed("Hang board", kind=kind)
    assert refused(world, START)[0] == "actuals.other_kind"


# -- done ---------------------------------------------------------------------------------------


def test_work_that_is_under_way_is_done() -> None:
    done = pressed(UNDER_WAY.with_changed("Hang board", remaining=60), FINISH, LEAD)
    assert done.activities["hang-board"].finished == on("Dec 3 10:30")
    assert done.activities["hang-board"].remaining is None


def test_work_is_not_done_before_it_started() -> None:
    command = replace(FINISH, when=on("Dec 3 8:30"))
    assert refused(UNDER_WAY, command, LEAD) == ("actuals.done_before_start", "when")


def test_work_that_nobody_started_needs_to_say_when_it_was() -> None:
    assert refused(RELEASED, FINISH, LEAD) == ("actuals.started_when", "started")
    after = pressed(RELEASED, replace(FINISH, started=on("Dec 3 9:00")), LEAD)
    assert after.activities["hang-board"].started == on("Dec 3 9:00")


def test_work_that_nobody_started_is_not_done_behind_a_check_either() -> None:
    assert held(WORLD, replace(FINISH, started=on("Dec 3 9:00")))[0].hold_id == "height-check"


def test_what_hides_a_part_that_was_left_out_is_not_done() -> None:
    refusal, said = held(left_out(3, started=on("Dec 3 9:00")), FINISH)
    assert refusal.id == "actuals.left_out"
    assert "No. 3" in said


def test_what_does_not_hide_the_part_that_was_left_out_is_done() -> None:
    world = left_out(3, started=on("Dec 3 9:00"))
    other = world.with_changed("Hang board-covers-Stand-offs", parts=(1, 2))
    assert pressed(other, FINISH, LEAD).activities["hang-board"].finished


def test_what_hides_a_check_that_was_opened_again_is_not_done() -> None:
    opened = WORLD.with_attempt("Height", "opened again")
    world = opened.with_changed("Hang board", started=on("Dec 3 9:00"))
    assert held(world, FINISH)[0].id == "actuals.hides_unseen"


def test_what_hides_a_check_that_no_arrow_ties_to_it_is_not_done() -> None:
    world = WORLD.with_task("Tile", crew=PLASTER, covers="Stand-offs", started=on("Dec 3 9:00"))
    assert held(world, replace(FINISH, activity_id="tile"))[0].id == "actuals.hides_unseen"


def test_a_check_that_comes_after_the_cover_does_not_hold_it() -> None:
    world = UNDER_WAY.with_check("Nothing knocked", after="Hang board", layers="Stand-offs")
    assert pressed(world, FINISH, LEAD).activities["hang-board"].finished


def test_the_super_records_that_it_is_done_anyway() -> None:
    world = left_out(3, started=on("Dec 3 9:00"))
    done = pressed(world, replace(FINISH, anyway="It is up")).activities["hang-board"]
    assert (done.finished, done.anyway) == (on("Dec 3 10:30"), "It is up")


def test_what_the_super_let_start_anyway_the_crew_may_report_done() -> None:
    world = WORLD.with_changed("Hang board", started=on("Dec 3 9:00"), anyway="They were on it")
    assert pressed(world, FINISH, LEAD).activities["hang-board"].finished


def test_a_finish_that_waits_for_another_finish_is_held() -> None:
    world = UNDER_WAY.with_task("Lath", crew=PLASTER, started=on("Dec 3 8:00"))
    together = world.with_dependency("Lath", "Hang board", type="FF")
    assert refused(together, FINISH, LEAD) == ("actuals.not_yet", "anyway")


# -- waits --------------------------------------------------------------------------------------

DRYING = UNDER_WAY.with_changed("Hang board", finished=on("Dec 3 9:30")).with_wait(
    "Board rests", CLOCK_DAY, after="Hang board"
)
OVER = Finish(activity_id="board-rests", when=NOW)


def test_a_wait_is_over_before_its_time_when_the_meter_says_so() -> None:
    rests = pressed(DRYING, OVER).activities["board-rests"]
    assert (rests.started, rests.finished) == (on("Dec 3 9:30"), NOW)


def test_a_wait_that_has_not_begun_is_not_over() -> None:
    world = DRYING.with_changed("Hang board", finished=None)
    assert refused(world, OVER) == ("actuals.not_yet", "anyway")


# -- what remains -------------------------------------------------------------------------------


def test_what_remains_moves_the_forecast() -> None:
    after = pressed(UNDER_WAY, SetRemaining(activity_id="hang-board", remaining=HOUR), LEAD)
    assert forecast(after, on("Dec 3 10:00"))["hang-board"].early_finish == on("Dec 3 11:00")


def test_nothing_remains_of_what_is_not_under_way() -> None:
    command = SetRemaining(activity_id="hang-board", remaining=HOUR)
    assert refused(RELEASED, command, LEAD) == ("actuals.not_started", "remaining")


def test_remaining_nothing_is_being_done() -> None:
    command = SetRemaining(activity_id="hang-board", remaining=0)
    assert refused(UNDER_WAY, command, LEAD) == ("input.number_outside", "remaining")


def left(at: str, **fields: Any) -> int | None:
    """What remains of the board by then, in working minutes."""
    world = UNDER_WAY.with_changed("Hang board", work=2 * DAY, **fields).snapshot()
    return remains(world, world.activities["hang-board"], on(at))


@pytest.mark.parametrize(("done", "minutes"), [(0, 480), (25, 360), (33, 322), (50, 240), (99, 5)])
def test_percent_done_are_of_the_whole_length(done: int, minutes: int) -> None:
    board = pressed(UNDER_WAY, SetRemaining(activity_id="hang-board", done=done), LEAD).activities
    assert (board["hang-board"].remaining, board["hang-board"].remaining_at) == (minutes, NOW)


def test_a_minute_remains_of_what_is_all_but_done() -> None:
    short = UNDER_WAY.with_changed("Hang board", work=20)
    after = pressed(short, SetRemaining(activity_id="hang-board", done=99), LEAD)
    assert after.activities["hang-board"].remaining == 1


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({}, ("input.no_number", "remaining")),
        ({"remaining": HOUR, "done": 50}, ("actuals.one_of_two", "done")),
        ({"done": 100}, ("input.number_outside", "done")),
        ({"done": -1}, ("input.number_outside", "done")),
        ({"remaining": HOUR, "cause": "x" * 2001}, ("input.long_text", "cause")),
    ],
)
def test_what_remains_is_said_in_one_way(
    fields: dict[str, Any], why: tuple[str, str | None]
) -> None:
    assert refused(UNDER_WAY, SetRemaining(activity_id="hang-board", **fields), LEAD) == why


def test_nobody_has_said_what_remains() -> None:
    assert left("Dec 3 12:00") is None


@pytest.mark.parametrize(
    ("at", "minutes"),
    [
        ("Dec 4 14:30", 600),
        ("Dec 4 22:00", 540),
        ("Dec 5 07:00", 540),
        ("Dec 5 12:30", 240),
        ("Dec 6 12:00", 60),
        ("Dec 8 07:00", 60),
        ("Dec 8 07:45", 15),
        ("Dec 8 09:00", 0),
    ],
)
def test_what_remains_runs_down_in_working_time_over_a_night_and_a_weekend(
    at: str, minutes: int
) -> None:
    assert left(at, remaining=10 * HOUR, remaining_at=on("Dec 4 14:30")) == minutes


def test_what_remains_is_not_more_before_it_was_said() -> None:
    assert left("Dec 4 9:00", remaining=HOUR, remaining_at=on("Dec 4 14:30")) == HOUR


def test_the_forecast_stands_while_what_remains_runs_down() -> None:
    said = pressed(UNDER_WAY, SetRemaining(activity_id="hang-board", remaining=2 * DAY), LEAD)
    finishes = {
        forecast(said, on(at))["hang-board"].early_finish
        for at in ("Dec 3 11:00", "Dec 3 18:00", "Dec 4 12:15", "Dec 5 10:30")
    }
    assert finishes == {on("Dec 5 10:52")}


def test_what_remains_of_joint_work_runs_down_only_where_both_crews_work() -> None:
    mornings = WorkCalendar(
        id="mornings",
        company_id=COMPANY,
        name="Mornings",
        shifts=("2 07:00 12:00", "3 07:00 12:00"),
    )
    world = UNDER_WAY.put(mornings).with_changed(METAL, calendar_id="mornings")
    both = world.with_changed("Hang board", with_crew_ids=("ore-street-metal",))
    said = both.with_changed("Hang board", remaining=4 * HOUR, remaining_at=on("Dec 3 11:00"))
    activity = said.snapshot().activities["hang-board"]
    assert remains(said.snapshot(), activity, on("Dec 3 15:00")) == 3 * HOUR
    assert forecast(said.snapshot(), on("Dec 3 15:00"))["hang-board"].early_finish == on(
        "Dec 4 10:00"
    )


def test_why_it_takes_longer_is_kept_with_its_detail_and_its_day() -> None:
    command = SetRemaining(activity_id="hang-board", remaining=DAY, cause="The studs are out")
    [cause] = pressed(UNDER_WAY, command, LEAD).causes.values()
    assert (cause.detail_id, cause.activity_id) == ("garden-stair-rail", "hang-board")
    assert (cause.day, cause.text) == (NOW.date(), "The studs are out")
    assert (cause.by_id, cause.at) == ("ninepail-plaster-lead", NOW)


def test_no_cause_is_kept_where_none_is_given() -> None:
    command = SetRemaining(activity_id="hang-board", remaining=DAY)
    assert not pressed(UNDER_WAY, command, LEAD).causes
