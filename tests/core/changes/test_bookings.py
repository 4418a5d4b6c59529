"""Visits are asked for, answered, moved and taken back; dates are agreed."""

from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from server.core.changes import Command
from server.core.changes.bookings import (
    AgreeDates,
    AnswerVisit,
    AskVisit,
    ChangeVisitWork,
    EndVisit,
    MoveVisit,
    WasteVisit,
)
from server.core.world import Snapshot
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, World, a_project, on

CREW, LEAD = "Ninepail Plaster", "Ninepail Plaster lead"
WORLD = (
    a_project()
    .with_crew(CREW, trade="plaster")
    .with_crew("Hobnail Millwork", trade="millwork")
    .with_detail("Garden stair rail")
    .with_task("Lath", started=on("Dec 1"), finished=on("Dec 1 15:30"), crew=CREW)
    .with_task("Base coat", crew=CREW, after="Lath")
    .with_wait("Base coat dries", CLOCK_DAY, after="Base coat")
    .with_task("Finish coat", crew=CREW, after="Base coat dries")
    .with_task("Rail", crew="Hobnail Millwork", after="Finish coat")
    .with_task("Caulk", after="Rail")
)
ASK = AskVisit(id="v1", activity_ids=("base-coat",), start=on("Dec 4"), finish=on("Dec 4 15:30"))
ASKED = WORLD.with_booking(CREW, "Base coat", on("Dec 4"), on("Dec 4 15:30"))
VISIT = "ninepail-plaster-1"
YES = AnswerVisit(booking_id=VISIT, coming=True)
NO = AnswerVisit(booking_id=VISIT, coming=False, other_day=on("Dec 8"), reason="Truck is down")
MOVE = MoveVisit(booking_id=VISIT, start=on("Dec 8"), finish=on("Dec 8 15:30"))


def state(snapshot: Snapshot) -> str:
    return snapshot.bookings[VISIT].state


def test_a_crew_is_asked_for_its_task() -> None:
    visit = pressed(WORLD, ASK).bookings["v1"]
    assert (visit.crew_id, visit.state, visit.asked_at) == ("ninepail-plaster", "asked", NOW)


def test_one_visit_can_be_for_more_than_one_task() -> None:
    command = replace(ASK, activity_ids=("base-coat", "finish-coat"))
    assert pressed(WORLD, command).bookings["v1"].activity_ids == ("base-coat", "finish-coat")


@pytest.mark.parametrize(
    ("ids", "why"),
    [
        ((), "bookings.for_what"),
        (("base-coat", "rail"), "bookings.two_crews"),
        (("caulk",), "bookings.nobody"),
        (("lath",), "bookings.done_already"),
        (("base-coat-dries",), "bookings.not_a_task"),
    ],
)
def test_a_visit_is_for_open_tasks_of_one_crew(ids: tuple[str, ...], why: str) -> None:
    assert refused(WORLD, replace(ASK, activity_ids=ids)) == (why, "activity_ids")


@pytest.mark.parametrize(
    ("span", "why", "field"),
    [
        ({"start": NOW}, "bookings.in_the_past", "start"),
        ({"finish": on("Dec 4")}, "bookings.ends_before", "finish"),
        (
            {"start": on("Dec 4").replace(year=2035), "finish": on("Dec 5").replace(year=2035)},
            "input.far_off",
            "start",
        ),
    ],
)
def test_a_visit_is_still_to_come_and_ends_after_it_begins(
    span: dict[str, Any], why: str, field: str
) -> None:
    assert refused(WORLD, replace(ASK, **span)) == (why, field)


def test_less_than_half_a_day_is_taken() -> None:
    assert pressed(WORLD, replace(ASK, finish=on("Dec 4 8:00"))).bookings["v1"]


def test_a_crew_is_not_asked_twice_for_the_same_hours() -> None:
    assert refused(ASKED, ASK) == ("bookings.asked_already", "activity_ids")


@pytest.mark.parametrize(
    "world",
    [
        ASKED.with_changed(VISIT, state="can't come"),
        ASKED.with_changed(VISIT, ended=NOW),
        ASKED.with_changed(VISIT, start=on("Dec 2"), finish=on("Dec 2 15:30")),
    ],
    ids=["can't come", "taken back", "on a day that has passed"],
)
def test_a_crew_is_asked_anew_after_a_visit_that_does_not_count(world: World) -> None:
    assert pressed(world, ASK).bookings["v1"]


def test_of_two_crews_that_work_together_the_second_is_asked_next() -> None:
    world = ASKED.with_changed("Base coat", with_crew_ids=("hobnail-millwork",))
    assert pressed(world, ASK).bookings["v1"].crew_id == "hobnail-millwork"


def test_only_the_super_asks() -> None:
    assert refused(WORLD, ASK, LEAD)[0] == "rights.role"


def test_the_crew_says_that_it_is_coming() -> None:
    visit = pressed(ASKED, YES, LEAD).bookings[VISIT]
    assert (visit.state, visit.by_phone, visit.answered_at) == ("coming", False, NOW)


def test_the_crew_cannot_come_and_offers_another_day() -> None:
    visit = pressed(ASKED, NO, LEAD).bookings[VISIT]
    assert (visit.state, visit.other_day, visit.reason) == (
        "can't come",
        on("Dec 8"),
        "Truck is down",
    )


def test_the_super_enters_an_answer_that_was_given_by_phone() -> None:
    visit = pressed(ASKED, replace(YES, by_phone=True)).bookings[VISIT]
    assert (visit.state, visit.by_phone, visit.answered_by_id) == ("coming", True, "rufus-orme")


def test_the_last_answer_counts() -> None:
    after = pressed(World(pressed(ASKED, NO, LEAD)), YES, LEAD).bookings[VISIT]
    assert (after.state, after.other_day) == ("coming", None)


def test_another_crew_knows_nothing_of_the_visit() -> None:
    assert refused(ASKED, YES, "Hobnail Millwork lead")[0] == "rights.hidden"


@pytest.mark.parametrize(
    "command", [replace(NO, other_day=on("Dec 2")), replace(YES, other_day=on("Dec 8"))]
)
def test_another_day_is_to_come_and_goes_with_cannot_come(command: AnswerVisit) -> None:
    assert refused(ASKED, command, LEAD) == ("bookings.other_day", "other_day")


def test_a_visit_that_has_passed_is_not_answered() -> None:
    world = ASKED.with_changed(VISIT, start=on("Dec 2"), finish=on("Dec 2 15:30"))
    assert refused(world, YES, LEAD)[0] == "bookings.over"


def test_a_moved_visit_is_asked_anew() -> None:
    came = ASKED.with_changed(VISIT, state="can't come", other_day=on("Dec 8"), reason="Truck")
    visit = pressed(came, MOVE).bookings[VISIT]
    assert (visit.state, visit.start, visit.other_day, visit.reason) == (
        "asked",
        on("Dec 8"),
        None,
        "",
    )


def test_a_visit_whose_work_is_done_is_not_moved() -> None:
    world = ASKED.with_changed("Base coat", started=NOW, finished=NOW)
    assert refused(world, MOVE)[0] == "bookings.done_already"


def test_a_visit_is_taken_back() -> None:
    after = pressed(ASKED, EndVisit(booking_id=VISIT, reason="Rain"))
    assert after.bookings[VISIT].ended == NOW
    assert refused(World(after), MOVE)[0] == "bookings.not_wanted"


# -- the day a crew promised --------------------------------------------------------------------


def promised_day(*commands: Command) -> datetime | None:
    world = ASKED
    for command in commands:
        world = World(pressed(world, command))
    return world.snapshot().bookings[VISIT].promised


def test_a_crew_that_says_it_comes_has_promised_the_day() -> None:
    assert promised_day(YES) == on("Dec 4")


def test_who_was_asked_or_cannot_come_has_promised_nothing() -> None:
    assert promised_day() is None
    assert promised_day(NO) is None


def test_the_super_ends_a_promise_by_asking_for_another_day() -> None:
    assert promised_day(YES, MOVE) is None
    assert promised_day(YES, MOVE, YES) == on("Dec 8")


def test_a_day_that_the_crew_could_not_keep_stays_the_one_that_it_promised() -> None:
    assert promised_day(YES, NO) == on("Dec 4")
    assert promised_day(YES, NO, MOVE) == on("Dec 4")
    assert promised_day(YES, NO, MOVE, YES) == on("Dec 4")


def test_why_a_crew_cannot_come_is_kept_with_the_detail() -> None:
    [cause] = pressed(ASKED, NO, LEAD).causes.values()
    assert (cause.detail_id, cause.activity_id) == ("garden-stair-rail", "base-coat")
    assert (cause.day, cause.text) == (NOW.date(), "Truck is down")
    assert not pressed(ASKED, YES, LEAD).causes


# -- a visit for nothing ------------------------------------------------------------------------

HERE = ASKED.with_changed(VISIT, state="coming", start=on("Dec 3"), finish=on("Dec 3 15:30"))
WASTE = WasteVisit(booking_id=VISIT, why=" The stair was closed ")


@pytest.mark.parametrize("who", [LEAD, "Rufus Orme"])
def test_a_crew_that_came_and_could_not_work_says_why(who: str) -> None:
    visit = pressed(HERE, WASTE, who).bookings[VISIT]
    assert (visit.wasted, visit.wasted_at, visit.ended) == ("The stair was closed", NOW, NOW)


def test_why_it_came_for_nothing_is_kept_with_the_detail() -> None:
    [cause] = pressed(HERE, WASTE, LEAD).causes.values()
    assert (cause.detail_id, cause.day) == ("garden-stair-rail", NOW.date())
    assert (cause.text, cause.activity_id) == ("The stair was closed", "base-coat")


def test_a_visit_for_nothing_is_over_and_the_crew_is_asked_anew() -> None:
    after = World(pressed(HERE, WASTE, LEAD))
    assert refused(after, WASTE, LEAD)[0] == "bookings.not_wanted"
    assert pressed(after, ASK).bookings["v1"].state == "asked"


@pytest.mark.parametrize(
    ("world", "command", "who", "why"),
    [
        (ASKED, WASTE, LEAD, ("bookings.not_yet", None)),
        (HERE, replace(WASTE, why=" "), LEAD, ("input.no_reason", "why")),
        (HERE, WASTE, "Hobnail Millwork lead", ("rights.hidden", None)),
    ],
    ids=["before its day", "without a reason", "another crew's"],
)
def test_a_visit_for_nothing_needs_its_day_a_reason_and_its_crew(
    world: World, command: WasteVisit, who: str, why: tuple[str, str | None]
) -> None:
    assert refused(world, command, who) == why


# -- promised dates -----------------------------------------------------------------------------

AGREE = AgreeDates(detail_id="garden-stair-rail")


def test_agreed_dates_are_the_forecast_of_all_and_what_happened_of_the_done() -> None:
    agreed = {a.activity_id: a for a in pressed(WORLD, AGREE).agreed.values()}
    assert len(agreed) == 6
    assert (agreed["lath"].start, agreed["lath"].finish) == (on("Dec 1"), on("Dec 1 15:30"))
    assert agreed["base-coat"].start == on("Dec 3 10:45")
    assert {a.round for a in agreed.values()} == {1}


def test_agreeing_again_is_a_new_round_and_needs_a_reason() -> None:
    once = World(pressed(WORLD, AGREE))
    assert refused(once, AGREE) == ("input.no_reason", "reason")
    twice = pressed(once, replace(AGREE, reason="The rail is late"))
    assert sorted({a.round for a in twice.agreed.values()}) == [1, 2]
    assert len(twice.agreed) == 12


def test_nothing_is_agreed_where_there_is_no_work() -> None:
    world = WORLD.with_detail("Landing glass")
    assert refused(world, AgreeDates(detail_id="landing-glass"))[0] == "bookings.nothing_to_promise"


BOTH = WORLD.with_booking(
    CREW, ("Base coat", "Finish coat"), on("Dec 4"), on("Dec 4 15:30"), state="coming"
)


def for_work(*ids: str) -> ChangeVisitWork:
    return ChangeVisitWork(booking_id=VISIT, activity_ids=ids)


def test_one_task_comes_out_of_a_visit_and_the_crew_is_coming_still() -> None:
    after = pressed(BOTH, for_work("base-coat"))
    assert after.bookings[VISIT].activity_ids == ("base-coat",)
    assert state(after) == "coming"


def test_more_work_is_asked_for_and_answered_anew() -> None:
    coming = ASKED.with_changed(VISIT, state="coming", answered_by_id="rufus-orme", promised=NOW)
    visit = pressed(coming, for_work("finish-coat", "base-coat")).bookings[VISIT]
    assert visit.activity_ids == ("base-coat", "finish-coat")
    assert (visit.state, visit.answered_by_id, visit.promised) == ("asked", None, NOW)
    assert (visit.start, visit.finish) == (on("Dec 4"), on("Dec 4 15:30"))


def test_what_was_done_in_a_visit_stays_in_it() -> None:
    done = BOTH.with_changed("Base coat", started=on("Dec 2"), finished=on("Dec 3"))
    with_more = done.with_task("Patch", crew=CREW)
    after = pressed(with_more, for_work("finish-coat", "patch"))
    assert after.bookings[VISIT].activity_ids == ("base-coat", "finish-coat", "patch")
    assert refused(done, for_work()) == ("bookings.nothing_left", "activity_ids")


@pytest.mark.parametrize(
    ("ids", "why"),
    [
        ((), "bookings.nothing_left"),
        (("base-coat", "finish-coat"), "bookings.same_work"),
        (("base-coat", "rail"), "bookings.another_crew"),
        (("base-coat", "base-coat-dries"), "bookings.not_a_task"),
        (("base-coat", "lath"), "bookings.done_already"),
    ],
)
def test_a_visit_is_for_other_open_work_of_its_crew(ids: tuple[str, ...], why: str) -> None:
    assert refused(BOTH, for_work(*ids)) == (why, "activity_ids")


def test_work_that_the_crew_is_asked_for_at_those_hours_does_not_come_in_twice() -> None:
    twice = ASKED.with_booking(CREW, "Finish coat", on("Dec 4 12:00"), on("Dec 4 15:30"))
    why = ("bookings.asked_already", "activity_ids")
    assert refused(twice, for_work("base-coat", "finish-coat")) == why


def test_a_visit_that_is_over_is_for_what_it_was_for() -> None:
    over = BOTH.with_changed(VISIT, start=on("Dec 1"), finish=on("Dec 1 15:30"))
    assert refused(over, for_work("base-coat")) == ("bookings.past", None)
