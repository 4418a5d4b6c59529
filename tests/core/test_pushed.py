"""What a change pushes: work by working days, visits, and the crews that must hear of it."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from server.core.changes import Command
from server.core.changes.bookings import AnswerVisit, AskVisit, EndVisit, MoveVisit
from server.core.changes.plan import EndActivity
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.pushed import Pushed, ToHear, VisitShift
from server.core.world import Telling
from server.core.world.network import forecast
from tests.core.pushes import HOUSE, NOW, PLASTER, RAIL_VISIT, VISITED, promising, push
from tests.worlds import DAY, HOUR, PROJECT, World, on

LONGER = ChangeWork(activity_id="base-coat", work=2 * DAY)
A_LITTLE = ChangeWork(activity_id="base-coat", work=DAY + 15)
UNTIL = PutOff(activity_id="base-coat", until=on("Dec 8"))
ASK = AskVisit(id="v", activity_ids=("cap",), start=on("Dec 5"), finish=on("Dec 5 15:30"))
MOVE = MoveVisit(booking_id=RAIL_VISIT, start=on("Dec 11"), finish=on("Dec 12 15:30"))
END = EndVisit(booking_id=RAIL_VISIT)


def days(found: Pushed) -> dict[str, int]:
    return {shift.activity_id: shift.days for shift in found.shifts}


def visit(what: str, was: datetime | None, now: datetime | None) -> VisitShift:
    return VisitShift(RAIL_VISIT, "hobnail-millwork", ("rail",), what, was, now)  # type: ignore[arg-type]


def told(found: Pushed) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(one.crew_id, one.what, one.activity_ids) for one in found.hear]


# -- what moves ----------------------------------------------------------------------------------


def test_the_house_is_where_its_comment_says() -> None:
    dates = forecast(HOUSE.snapshot(), on("Dec 3 10:45"))
    assert [dates[id].early_finish for id in ("base-coat", "base-coat-dries", "finish-coat")] == [
        on("Dec 4 10:45"),
        on("Dec 5 10:45"),
        on("Dec 8 10:45"),
    ]
    assert dates["rail"].early_finish == on("Dec 9 10:45")


def test_nothing_moves_when_nothing_changes() -> None:
    found = push(VISITED)
    assert found == Pushed((), (), (), ())


def test_over_a_weekend_only_working_days_count() -> None:
    found = push(HOUSE, UNTIL)
    assert max(shift.move.later.days for shift in found.shifts) == 4  # Thursday to Monday
    assert days(found) == {"base-coat": 2, "base-coat-dries": 2, "finish-coat": 2, "rail": 2}


def test_a_wait_that_ends_on_a_saturday_instead_of_friday_is_no_working_day_later() -> None:
    assert days(push(HOUSE, LONGER)) == {
        "base-coat": 1,
        "base-coat-dries": 0,
        "finish-coat": 0,
        "rail": 0,
    }


def test_a_closed_day_does_not_count() -> None:
    site = HOUSE.with_changed("site", closed=(date(2025, 12, 5),))
    assert days(push(HOUSE, UNTIL))["base-coat"] == 2
    assert days(push(site, UNTIL))["base-coat"] == 1


def test_what_finishes_most_later_stands_first_with_its_detail() -> None:
    found = push(HOUSE, UNTIL, ChangeWork(activity_id="cap", work=2 * DAY))
    assert [shift.detail_id for shift in found.shifts] == ["garden-stair-rail"] * 4 + [
        "landing-cap"
    ]
    finishes = [shift.move.later for shift in found.shifts]
    assert finishes == sorted(finishes, reverse=True)


def test_what_finishes_earlier_moves_by_less_than_nothing() -> None:
    late = HOUSE.with_changed("Base coat", not_before=on("Dec 8"))
    assert days(push(late, PutOff(activity_id="base-coat", until=None)))["base-coat"] == -2


def test_what_goes_is_told_without_days() -> None:
    found = push(HOUSE, EndActivity(activity_id="cap", reason=""))
    [gone] = [shift for shift in found.shifts if shift.move.after is None]
    assert (gone.activity_id, gone.detail_id, gone.days) == ("cap", "landing-cap", 0)


def test_a_detail_moves_with_the_last_of_it() -> None:
    [moved] = push(HOUSE, UNTIL).details
    assert (moved.detail_id, moved.was, moved.now) == (
        "garden-stair-rail",
        on("Dec 9 10:45"),
        on("Dec 11 15:30"),
    )
    assert moved.days == 2


def test_a_detail_whose_last_stays_does_not_move() -> None:
    world = HOUSE.with_task("Brush the cap", HOUR, crew=PLASTER)
    later = ChangeWork(activity_id="brush-the-cap", work=6 * HOUR)
    assert push(world, later).details == ()
    assert days(push(world, later)) == {"brush-the-cap": 1}


# -- visits --------------------------------------------------------------------------------------


def test_a_visit_breaks_when_its_work_is_ready_only_after_its_day() -> None:
    [found] = push(VISITED, UNTIL).visits
    assert found == visit("breaks", on("Dec 8 8:00"), on("Dec 11"))


def test_a_visit_whose_work_is_ready_in_time_is_not_touched() -> None:
    assert push(VISITED, A_LITTLE).visits == ()


def test_a_visit_that_was_too_early_before_does_not_break_again() -> None:
    world = VISITED.with_changed("Base coat", not_before=on("Dec 5"))
    assert push(world, UNTIL).visits == ()


def test_a_visit_fits_again() -> None:
    world = VISITED.with_changed("Base coat", not_before=on("Dec 8"))
    [found] = push(world, PutOff(activity_id="base-coat", until=None)).visits
    assert found == visit("fits again", on("Dec 8 8:00"), on("Dec 8 8:00"))


def test_a_visit_moves() -> None:
    [found] = push(VISITED, MOVE).visits
    assert found == visit("moves", on("Dec 8 8:00"), on("Dec 11"))


def test_a_visit_that_moves_with_its_work_does_not_break() -> None:
    assert [v.what for v in push(VISITED, UNTIL, MOVE).visits] == ["moves"]


def test_a_visit_ends() -> None:
    [found] = push(VISITED, END).visits
    assert found == visit("ends", on("Dec 8 8:00"), None)


def test_a_visit_is_asked() -> None:
    [found] = push(HOUSE, ASK).visits
    assert (found.booking_id, found.what, found.was, found.now) == ("v", "asked", None, on("Dec 5"))


def test_who_cannot_come_is_asked_again_for_the_same_day() -> None:
    world = VISITED.with_changed(RAIL_VISIT, state="can't come")
    again = replace(MOVE, start=on("Dec 8 8:00"), finish=on("Dec 9 15:30"))
    [found] = push(world, again).visits
    assert (found.what, found.now) == ("asked", on("Dec 8 8:00"))


@pytest.mark.parametrize(
    "fields",
    [
        {"ended": NOW},
        {"state": "can't come"},
        {"start": on("Dec 2"), "finish": on("Dec 2 15:30")},
    ],
    ids=["taken back", "refused", "over"],
)
def test_a_visit_that_does_not_count_does_not_break(fields: dict[str, object]) -> None:
    assert push(VISITED.with_changed(RAIL_VISIT, **fields), UNTIL).visits == ()


def test_an_answer_pushes_nothing() -> None:
    found = push(VISITED, AnswerVisit(booking_id=RAIL_VISIT, coming=True))
    assert (found.visits, found.hear) == ((), ())


# -- who must hear -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("commands", "what"),
    [((UNTIL,), "breaks"), ((MOVE,), "moves"), ((UNTIL, MOVE), "moves"), ((END,), "ends")],
)
def test_a_crew_hears_what_becomes_of_its_visit(commands: tuple[Command, ...], what: str) -> None:
    assert told(push(VISITED, *commands)) == [("hobnail-millwork", what, ("rail",))]


def test_a_crew_hears_that_it_is_asked() -> None:
    [one] = push(HOUSE, ASK).hear
    assert one == ToHear("hobnail-millwork", "asked", ("cap",), "v", None, on("Dec 5"))


def test_nobody_hears_of_work_that_was_not_promised() -> None:
    assert push(HOUSE, UNTIL).hear == ()


def test_a_crew_hears_of_promised_work_that_comes_another_day_the_first_of_it_first() -> None:
    found = push(promising(HOUSE), UNTIL)
    assert told(found) == [
        ("ninepail-plaster", "work", ("base-coat", "finish-coat")),
        ("hobnail-millwork", "work", ("rail",)),
    ]
    assert (found.hear[0].was, found.hear[0].now) == (on("Dec 3 10:45"), on("Dec 8"))


def test_a_crew_need_not_hear_of_promised_work_that_comes_later_on_the_same_day() -> None:
    assert push(promising(HOUSE), A_LITTLE).shifts
    assert push(promising(HOUSE), A_LITTLE).hear == ()


def test_a_crew_that_comes_for_the_work_hears_of_its_visit_only() -> None:
    world = promising(
        VISITED.with_changed(RAIL_VISIT, finish=on("Dec 16 15:30"), start=on("Dec 12"))
    )
    assert "hobnail-millwork" not in {one.crew_id for one in push(world, UNTIL).hear}
    assert [one.what for one in push(world, UNTIL, END).hear if one.booking_id] == ["ends"]


def test_a_crew_whose_visit_was_refused_hears_of_its_promised_work() -> None:
    world = promising(VISITED.with_changed(RAIL_VISIT, state="can't come"))
    assert ("hobnail-millwork", "work", ("rail",)) in told(push(world, UNTIL))


def test_each_of_the_crews_that_work_together_hears() -> None:
    world = promising(HOUSE.with_changed("Base coat", with_crew_ids=("hobnail-millwork",)))
    crews = {one.crew_id: one.activity_ids for one in push(world, UNTIL).hear}
    assert crews["hobnail-millwork"] == ("base-coat", "rail")


def test_work_under_way_moves_nobody() -> None:
    begun = promising(HOUSE.with_changed("Base coat", started=on("Dec 3")))
    later = begun.with_changed("Base coat", remaining=2 * DAY, remaining_at=on("Dec 3 10:45"))
    found = push(World(later.snapshot()), ChangeWork(activity_id="base-coat-dries", work=5760))
    assert "base-coat" not in {id for one in found.hear for id in one.activity_ids}
    assert ("ninepail-plaster", "work", ("finish-coat",)) in told(found)


FITS = PutOff(activity_id="base-coat", until=None)
TOO_EARLY = VISITED.with_changed("Base coat", not_before=on("Dec 8"))
BREAKS = Telling(
    id="t1",
    project_id=PROJECT,
    crew_id="hobnail-millwork",
    what="breaks",
    activity_ids=("rail",),
    booking_id=RAIL_VISIT,
    was=on("Dec 8 8:00"),
    now=on("Dec 11"),
    by_id="rufus-orme",
    at=on("Dec 2"),
    heard=on("Dec 2 8:00"),
)


def test_nobody_hears_that_a_visit_fits_as_it_was_asked() -> None:
    assert push(TOO_EARLY, FITS).hear == ()
    assert push(TOO_EARLY.put(replace(BREAKS, heard=None)), FITS).hear == ()


def test_who_has_heard_that_it_does_not_fit_hears_that_it_stands_as_before() -> None:
    [one] = push(TOO_EARLY.put(BREAKS), FITS).hear
    assert (one.what, one.was, one.now) == ("moves", on("Dec 8 8:00"), on("Dec 8 8:00"))


def test_who_has_heard_of_another_day_since_need_not_hear_that_it_fits() -> None:
    moved = replace(BREAKS, id="t2", what="moves", heard=on("Dec 2 9:00"))
    assert push(TOO_EARLY.put(BREAKS, moved), FITS).hear == ()


# -- the digest ----------------------------------------------------------------------------------


def test_the_digest_stays_while_only_the_status_goes_on() -> None:
    world = promising(VISITED)
    digests = {
        push(world, UNTIL, MOVE, at=NOW + timedelta(minutes=minutes)).digest
        for minutes in (0, 15, 30, 60)
    }
    assert len(digests) == 1


@pytest.mark.parametrize(
    "others",
    [
        (),
        (replace(UNTIL, until=on("Dec 9")),),
        (UNTIL,),
        (UNTIL, replace(MOVE, start=on("Dec 12"))),
        (UNTIL, END),
        (UNTIL, MOVE, ASK),
    ],
    ids=["nothing", "another day", "no move", "another visit", "an end", "another crew"],
)
def test_the_digest_is_another_when_a_day_changes(others: tuple[Command, ...]) -> None:
    assert push(VISITED, *others).digest != push(VISITED, UNTIL, MOVE).digest


def test_the_digest_is_another_when_somebody_promised_meanwhile() -> None:
    assert push(promising(HOUSE), UNTIL).digest != push(HOUSE, UNTIL).digest
