"""Promised dates against the forecast, and the promised days on which a crew came."""

from dataclasses import replace
from typing import Any

from server.core.changes import Command
from server.core.changes.actuals import Start
from server.core.changes.bookings import (
    AgreeDates,
    AnswerVisit,
    EndVisit,
    MoveVisit,
    WasteVisit,
)
from server.core.promises import (
    Visited,
    days_late,
    finish_of,
    promised,
    promised_finish,
    visits_kept,
)
from server.core.world.network import forecast
from tests.core.pushes import HOUSE, MILLWORK, PLASTER, after
from tests.worlds import DAY, World, on

RAIL = "garden-stair-rail"
CREW, VISIT = "ninepail-plaster", "ninepail-plaster-1"
ASKED = HOUSE.with_booking(PLASTER, "Base coat", on("Dec 4"), on("Dec 4 15:30"))
YES = AnswerVisit(booking_id=VISIT, coming=True)
NO = AnswerVisit(booking_id=VISIT, coming=False, reason="Truck is down")
MOVE = MoveVisit(booking_id=VISIT, start=on("Dec 8"), finish=on("Dec 8 15:30"))
CAME = Start(activity_id="base-coat", when=on("Dec 4 7:30"))
WASTED = WasteVisit(booking_id=VISIT, why="No power")

Said = tuple[str, Command]


def kept(*said: Said, today: str = "Dec 10", world: World = ASKED) -> Visited:
    """How the crew kept its days after all this was said, each at its time."""
    for at, command in said:
        world = World(after(world, command, at=on(at)))
    return visits_kept(world.snapshot(), CREW, on(today).date())


# -- the days of a crew --------------------------------------------------------------------------


def test_a_crew_came_when_its_work_began_on_the_promised_day() -> None:
    assert kept(("Dec 3", YES), ("Dec 4 8:00", CAME)) == Visited(1, 1)


def test_a_crew_came_when_its_work_was_going_on_that_day() -> None:
    early = replace(CAME, when=on("Dec 3 12:00"))
    assert kept(("Dec 3", YES), ("Dec 3 13:00", early)) == Visited(1, 1)


def test_a_crew_did_not_come_when_its_work_began_another_day() -> None:
    late = replace(CAME, when=on("Dec 5 7:30"))
    assert kept(("Dec 3", YES), ("Dec 5 8:00", late)) == Visited(0, 1)


def test_a_crew_did_not_come_when_its_work_was_done_before() -> None:
    done: dict[str, Any] = {"started": on("Dec 2"), "finished": on("Dec 3 10:00")}
    assert kept(("Dec 3", YES), world=ASKED.with_changed("Base coat", **done)) == Visited(0, 1)


def test_a_day_that_is_not_over_does_not_count_yet() -> None:
    assert kept(("Dec 3", YES), ("Dec 4 8:00", CAME), today="Dec 4") == Visited(0, 0)
    assert kept(("Dec 3", YES), ("Dec 4 8:00", CAME), today="Dec 5") == Visited(1, 1)


def test_a_visit_that_was_only_asked_promises_nothing() -> None:
    assert kept() == Visited(0, 0)


def test_when_the_super_moves_a_visit_there_is_only_the_new_day_to_keep() -> None:
    moved: tuple[Said, ...] = (("Dec 3", YES), ("Dec 3 9:00", MOVE))
    assert kept(*moved) == Visited(0, 0)
    begun = replace(CAME, when=on("Dec 8 7:30"))
    assert kept(*moved, ("Dec 3 9:30", YES), ("Dec 8 8:00", begun)) == Visited(1, 1)


def test_when_the_crew_cannot_come_its_first_day_stays_to_keep() -> None:
    begun = replace(CAME, when=on("Dec 8 7:30"))
    said: tuple[Said, ...] = (
        ("Dec 3", YES),
        ("Dec 3 9:00", NO),
        ("Dec 3 9:30", MOVE),
        ("Dec 3 10:00", YES),
        ("Dec 8 8:00", begun),
    )
    assert kept(*said) == Visited(0, 1)


def test_who_never_said_that_it_comes_breaks_no_promise() -> None:
    assert kept(("Dec 3", NO)) == Visited(0, 0)


def test_a_crew_that_came_and_could_not_work_came() -> None:
    assert kept(("Dec 3", YES), ("Dec 4 9:00", WASTED)) == Visited(1, 1)


def test_a_visit_taken_back_before_its_day_leaves_nothing_to_keep() -> None:
    end = EndVisit(booking_id=VISIT)
    assert kept(("Dec 3", YES), ("Dec 3 15:00", end)) == Visited(0, 0)


def test_a_visit_taken_back_after_nobody_came_is_not_kept() -> None:
    end = EndVisit(booking_id=VISIT)
    assert kept(("Dec 3", YES), ("Dec 4 12:00", end)) == Visited(0, 1)


def test_another_crews_days_do_not_count() -> None:
    other = ASKED.with_booking(
        MILLWORK, "Cap", on("Dec 4"), on("Dec 4 15:30"), state="coming", promised=on("Dec 4")
    )
    assert kept(("Dec 3", YES), ("Dec 4 8:00", CAME), world=other) == Visited(1, 1)


# -- the dates of a detail -----------------------------------------------------------------------

AGREE = AgreeDates(detail_id=RAIL)
PROMISED = World(after(HOUSE, AGREE))


def late(world: World) -> int | None:
    return days_late(world.snapshot(), forecast(world.snapshot(), on("Dec 3 10:45")), RAIL)


def test_what_was_promised_is_the_forecast_of_that_day() -> None:
    world = PROMISED.snapshot()
    assert promised_finish(world, RAIL) == on("Dec 9 10:45")
    assert finish_of(world, forecast(world, on("Dec 3 10:45")), RAIL) == on("Dec 9 10:45")
    assert late(PROMISED) == 0


def test_the_newest_round_counts() -> None:
    longer = PROMISED.with_changed("Rail", work=3 * DAY)
    again = World(after(longer, replace(AGREE, reason="The rail is longer")))
    assert promised_finish(again.snapshot(), RAIL) == on("Dec 11 10:45")
    assert len(promised(again.snapshot(), RAIL)) == 5


def test_a_detail_is_late_by_working_days_and_early_by_less_than_nothing() -> None:
    assert late(PROMISED.with_changed("Rail", work=5 * DAY)) == 4
    assert late(PROMISED.with_changed("Rail", work=60)) == -1


def test_a_detail_without_promises_or_work_is_not_late() -> None:
    assert late(HOUSE) is None
    assert promised_finish(HOUSE.snapshot(), RAIL) is None
    empty = HOUSE.with_detail("Attic hatch").snapshot()
    assert finish_of(empty, forecast(empty, on("Dec 3")), "attic-hatch") is None
