"""Dates moved on purpose, agreed to with what they push, and crews that hear of it."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import pytest

from server.core.changes import change
from server.core.changes.base import Command
from server.core.changes.bookings import AskVisit, EndVisit, MoveVisit
from server.core.changes.pushing import AgreePush, ChangeWork, GiveCause, Hear, PutOff
from server.core.changes.rules_pushing import PushChanged
from server.core.world import Snapshot, Telling
from server.core.world.network import forecast
from tests.core.changes.pressing import NOW, pressed, refused
from tests.core.pushes import HOUSE, MILLWORK, RAIL_VISIT, VISITED, promising, push
from tests.worlds import CLOCK_DAY, DAY, HOUR, World, actor, on

RAIL, LEAD = "garden-stair-rail", f"{MILLWORK} lead"
UNTIL = PutOff(activity_id="base-coat", until=on("Dec 8"))
SOON = PutOff(activity_id="base-coat", until=None)
WORK = ChangeWork(activity_id="base-coat", work=2 * DAY)
MOVE = MoveVisit(booking_id=RAIL_VISIT, start=on("Dec 11"), finish=on("Dec 12 15:30"))
BEGUN = HOUSE.with_changed("Base coat", started=on("Dec 3"))
DONE = BEGUN.with_changed("Base coat", finished=on("Dec 3 9:00"))
COMING = HOUSE.with_delivery("Glass", ordered=on("Dec 1"), promised=on("Dec 5"))

# -- put off -------------------------------------------------------------------------------------


def test_work_that_is_put_off_does_not_begin_before() -> None:
    after = pressed(HOUSE, replace(UNTIL, until=on("Dec 8 7:30").replace(second=12)))
    assert after.activities["base-coat"].not_before == on("Dec 8 7:30")
    assert forecast(after, NOW)["base-coat"].early_start == on("Dec 8 7:30")


def test_work_that_is_put_off_no_longer_goes_in_its_order() -> None:
    after = pressed(World(pressed(HOUSE, UNTIL)), SOON)
    assert after.activities["base-coat"].not_before is None


@pytest.mark.parametrize("fields", [{}, {"ordered": None}], ids=["on its way", "only promised"])
def test_a_delivery_that_is_put_off_comes_then(fields: dict[str, Any]) -> None:
    after = pressed(COMING.with_changed("Glass", **fields), replace(UNTIL, activity_id="glass"))
    assert (after.activities["glass"].promised, after.activities["glass"].not_before) == (
        on("Dec 8"),
        None,
    )
    assert forecast(after, NOW)["glass"].early_finish == on("Dec 8")


def test_a_delivery_that_nobody_has_ordered_is_ordered_later() -> None:
    world = COMING.with_changed("Glass", ordered=None, promised=None)
    after = pressed(world, replace(UNTIL, activity_id="glass"))
    assert after.activities["glass"].not_before == on("Dec 8")


@pytest.mark.parametrize(
    ("world", "command", "why"),
    [
        (HOUSE, replace(UNTIL, until=NOW), ("push.in_the_past", "until")),
        (HOUSE, replace(UNTIL, until=on("Dec 8").replace(year=2036)), ("input.far_off", "until")),
        (HOUSE, replace(UNTIL, activity_id="nothing"), ("change.gone", None)),
        (BEGUN, UNTIL, ("push.not_put_off", None)),
        (DONE, UNTIL, ("actuals.done_already", None)),
        (HOUSE, replace(UNTIL, activity_id="base-coat-dries"), ("push.not_put_off", None)),
        (COMING, replace(SOON, activity_id="glass"), ("input.no_day", "until")),
        (
            HOUSE.with_changed("Base coat", finish_by=on("Dec 8")),
            UNTIL,
            ("plan.finish_before_start", "until"),
        ),
        (HOUSE.with_changed("Base coat", ended=NOW), UNTIL, ("change.gone", None)),
    ],
)
def test_what_cannot_be_put_off_is_refused(
    world: World, command: PutOff, why: tuple[str, str | None]
) -> None:
    assert refused(world, command) == why


# -- how long it takes ---------------------------------------------------------------------------


def test_work_takes_so_long_and_is_no_longer_common_practice() -> None:
    world = HOUSE.with_changed("Base coat", tag="P", low=DAY, high=DAY)
    changed = pressed(world, WORK).activities["base-coat"]
    assert (changed.work, changed.tag) == (2 * DAY, "")
    assert (changed.low, changed.high) == (DAY, 2 * DAY)


def test_the_range_goes_down_with_the_length() -> None:
    world = HOUSE.with_changed("Base coat", low=DAY, high=2 * DAY)
    changed = pressed(world, replace(WORK, work=HOUR)).activities["base-coat"]
    assert (changed.low, changed.work, changed.high) == (HOUR, HOUR, 2 * DAY)


def test_a_wait_takes_longer_also_when_it_has_begun() -> None:
    longer = ChangeWork(activity_id="base-coat-dries", work=3 * CLOCK_DAY)
    world = DONE.with_changed("Base coat dries", started=on("Dec 3 9:00"))
    assert pressed(DONE, longer).activities["base-coat-dries"].work == 3 * CLOCK_DAY
    assert pressed(world, longer).activities["base-coat-dries"].work == 3 * CLOCK_DAY


@pytest.mark.parametrize(
    ("world", "command", "why"),
    [
        (BEGUN, WORK, ("push.length_stays", None)),
        (DONE, WORK, ("actuals.done_already", None)),
        (
            HOUSE.with_check("String"),
            replace(WORK, activity_id="string"),
            ("push.length_stays", None),
        ),
        (HOUSE, replace(WORK, work=0), ("input.number_outside", "work")),
        (HOUSE, replace(WORK, work=10**9), ("input.number_outside", "work")),
        (
            HOUSE.with_changed("Base coat", one_day=True),
            WORK,
            ("plan.longer_than_a_day", "work"),
        ),
    ],
)
def test_a_length_that_cannot_be_is_refused(
    world: World, command: ChangeWork, why: tuple[str, str | None]
) -> None:
    assert refused(world, command) == why


# -- why -----------------------------------------------------------------------------------------

CAUSE = GiveCause(id="c", detail_id=RAIL, day=date(2025, 12, 2), cause=" Rain came in ")


def test_a_cause_is_kept_with_its_day_and_who_said_so() -> None:
    [row] = pressed(HOUSE, CAUSE).causes.values()
    assert (row.detail_id, row.day, row.text) == (RAIL, date(2025, 12, 2), "Rain came in")
    assert (row.by_id, row.at, row.activity_id) == ("rufus-orme", NOW, None)


def test_a_day_can_have_more_than_one_cause() -> None:
    assert len(pressed(World(pressed(HOUSE, CAUSE)), CAUSE).causes) == 2


@pytest.mark.parametrize(
    ("command", "why"),
    [
        (replace(CAUSE, cause=" "), ("input.no_reason", "cause")),
        (replace(CAUSE, cause="x" * 2001), ("input.long_text", "cause")),
        (replace(CAUSE, day=date(2025, 12, 4)), ("push.day_to_come", "day")),
        (replace(CAUSE, detail_id="nothing"), ("change.gone", "detail_id")),
    ],
)
def test_a_cause_has_words_and_a_day_that_has_come(
    command: GiveCause, why: tuple[str, str | None]
) -> None:
    assert refused(HOUSE, command) == why


# -- agreed to -----------------------------------------------------------------------------------


def agreeing(world: World, *commands: Command, **fields: Any) -> AgreePush:
    """Agreed to right after it was shown."""
    shown = push(world, *commands).digest
    return replace(AgreePush(id="p", detail_id=RAIL, commands=commands, shown=shown), **fields)


def agreed(world: World, *commands: Command, **fields: Any) -> Snapshot:
    return pressed(world, agreeing(world, *commands, **fields))


Told = tuple[str, datetime | None, datetime | None]


def told(snapshot: Snapshot) -> list[Told]:
    rows = sorted(snapshot.tellings.values(), key=lambda row: row.what)
    return [(row.what, row.was, row.now) for row in rows]


def test_all_of_it_is_done() -> None:
    after = agreed(VISITED, UNTIL, MOVE)
    assert after.activities["base-coat"].not_before == on("Dec 8")
    assert after.bookings[RAIL_VISIT].start == on("Dec 11")


def test_what_crews_must_hear_is_written_down() -> None:
    [row] = agreed(VISITED, UNTIL, MOVE).tellings.values()
    assert (row.crew_id, row.what, row.booking_id) == ("hobnail-millwork", "moves", RAIL_VISIT)
    assert (row.was, row.now, row.heard) == (on("Dec 8 8:00"), on("Dec 11"), None)
    assert (row.by_id, row.at, row.activity_ids) == ("rufus-orme", NOW, ("rail",))


def test_a_cause_is_kept_with_each_detail_that_finishes_later() -> None:
    world = HOUSE.with_dependency("Finish coat", "Cap")
    causes = agreed(world, UNTIL, cause="Rain").causes.values()
    assert {(c.detail_id, c.day, c.text) for c in causes} == {
        (RAIL, NOW.date(), "Rain"),
        ("landing-cap", NOW.date(), "Rain"),
    }


def test_a_cause_where_nothing_finishes_later_is_kept_with_the_detail_that_was_open() -> None:
    earlier = replace(WORK, work=DAY - HOUR)
    assert [c.detail_id for c in agreed(HOUSE, earlier, cause="Two men").causes.values()] == [RAIL]
    assert not agreed(HOUSE, UNTIL).causes


def test_nothing_is_done_when_one_of_it_is_refused() -> None:
    command = replace(agreeing(VISITED, UNTIL), commands=(UNTIL, replace(MOVE, start=on("Dec 1"))))
    assert refused(VISITED, command) == ("bookings.in_the_past", "start")


def test_nothing_is_done_when_somebody_has_changed_something_in_between() -> None:
    command = agreeing(VISITED, UNTIL)
    moved = World(pressed(VISITED, replace(MOVE, start=on("Dec 12"))))
    before = moved.snapshot()
    with pytest.raises(PushChanged) as caught:
        change(before, actor(before), command, NOW)
    assert caught.value.id == "push.changed"


def test_it_is_done_when_only_a_quarter_of_an_hour_has_passed() -> None:
    before = VISITED.snapshot()
    later = NOW + timedelta(minutes=15)
    after = change(before, actor(before), agreeing(VISITED, UNTIL), later).after
    assert after.activities["base-coat"].not_before == on("Dec 8")


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"commands": ()}, ("push.nothing", "what")),
        ({"detail_id": "nothing"}, ("change.gone", "detail_id")),
        ({"cause": "x" * 2001}, ("input.long_text", "cause")),
        ({"shown": ""}, ("push.changed", None)),
    ],
)
def test_what_cannot_be_agreed_to_is_refused(
    fields: dict[str, Any], why: tuple[str, str | None]
) -> None:
    assert refused(VISITED, agreeing(VISITED, UNTIL, **fields)) == why


def test_only_the_super_agrees() -> None:
    assert refused(VISITED, agreeing(VISITED, UNTIL), LEAD)[0] == "rights.role"


# -- of what was not heard yet -------------------------------------------------------------------


def test_a_visit_that_moves_again_is_told_once_from_the_day_that_the_crew_knows() -> None:
    once = World(agreed(VISITED, UNTIL, MOVE))
    again = agreed(once, replace(MOVE, start=on("Dec 12")), id="q")
    assert told(again) == [("moves", on("Dec 8 8:00"), on("Dec 12"))]


def test_what_was_heard_stays_and_the_next_is_told_from_there() -> None:
    once = agreed(VISITED, UNTIL, MOVE)
    heard = World(pressed(World(once), Hear(telling_ids=tuple(once.tellings))))
    again = agreed(heard, replace(MOVE, start=on("Dec 12")), id="q")
    assert told(again) == [
        ("moves", on("Dec 8 8:00"), on("Dec 11")),
        ("moves", on("Dec 11"), on("Dec 12")),
    ]


ASK = AskVisit(id="v", activity_ids=("rail",), start=on("Dec 10"), finish=on("Dec 10 15:30"))


def test_who_has_not_heard_that_it_is_asked_does_not_know_another_day() -> None:
    asked = World(agreed(HOUSE, ASK))
    assert told(agreed(asked, replace(MOVE, booking_id="v"), id="q")) == [
        ("moves", None, on("Dec 11"))
    ]


def test_a_visit_that_ends_unheard_of_is_told_by_its_day() -> None:
    asked = World(agreed(HOUSE, ASK))
    assert told(agreed(asked, EndVisit(booking_id="v"), id="q")) == [("ends", on("Dec 10"), None)]


def test_that_a_visit_is_asked_is_still_to_be_heard_when_it_breaks() -> None:
    asked = World(agreed(HOUSE, ASK))
    assert told(agreed(asked, UNTIL, id="q")) == [
        ("asked", None, on("Dec 10")),
        ("breaks", on("Dec 10"), on("Dec 11")),
    ]


def test_that_it_breaks_is_not_told_any_more_when_it_fits_again() -> None:
    broken = World(agreed(VISITED, UNTIL))
    assert told(broken.snapshot()) == [("breaks", on("Dec 8 8:00"), on("Dec 11"))]
    assert told(agreed(broken, SOON, id="q")) == []


def test_work_that_moves_again_is_told_once_from_the_day_that_was_promised() -> None:
    once = World(agreed(promising(HOUSE), UNTIL))
    again = agreed(once, replace(UNTIL, until=on("Dec 9")), id="q")
    rows = {row.crew_id: row for row in again.tellings.values()}
    assert len(again.tellings) == len(rows) == 2
    plaster = rows["ninepail-plaster"]
    assert plaster.activity_ids == ("base-coat", "finish-coat")
    assert (plaster.was, plaster.now) == (on("Dec 3 10:45"), on("Dec 9"))


def test_work_that_is_back_on_its_promised_day_is_not_told() -> None:
    once = World(agreed(promising(HOUSE), UNTIL))
    assert told(agreed(once, SOON, id="q")) == []


def test_work_that_stays_away_is_still_told_when_other_work_is_back() -> None:
    world = promising(HOUSE)
    later = PutOff(activity_id="finish-coat", until=on("Dec 15"))
    once = World(agreed(world, UNTIL, later))
    rows = [t for t in agreed(once, SOON, id="q").tellings.values() if "plaster" in t.crew_id]
    assert [(row.activity_ids, row.was, row.now) for row in rows] == [
        (("finish-coat",), on("Dec 5 10:45"), on("Dec 15"))
    ]


# -- heard ---------------------------------------------------------------------------------------

TOLD = World(agreed(VISITED, UNTIL, MOVE))
[ROW] = TOLD.snapshot().tellings.values()
HEAR = Hear(telling_ids=(ROW.id,))


def heard(world: World, who: str) -> Telling:
    return pressed(world, HEAR, who).tellings[ROW.id]


def test_a_crew_says_that_it_has_heard() -> None:
    assert (heard(TOLD, LEAD).heard, heard(TOLD, LEAD).heard_by_id) == (
        NOW,
        "hobnail-millwork-lead",
    )


def test_the_super_has_told_it() -> None:
    assert heard(TOLD, "Rufus Orme").heard_by_id == "rufus-orme"


def test_what_was_heard_before_stays_as_it_was() -> None:
    before = TOLD.put(replace(ROW, heard=on("Dec 3 9:00"), heard_by_id="rufus-orme"))
    assert heard(before, LEAD) == before.snapshot().tellings[ROW.id]


def test_another_crew_knows_nothing_of_it() -> None:
    assert refused(TOLD, HEAR, "Ninepail Plaster lead")[0] == "rights.hidden"


@pytest.mark.parametrize(
    ("ids", "why"),
    [((), ("push.nothing", "telling_ids")), (("nothing",), ("change.gone", None))],
)
def test_what_is_heard_is_there(ids: tuple[str, ...], why: tuple[str, str | None]) -> None:
    assert refused(TOLD, Hear(telling_ids=ids)) == why
