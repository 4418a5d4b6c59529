"""Each evening's finish is kept by the first change of a day, as it was seen that evening."""

from datetime import date, datetime, time, timedelta

from server.core.changes.actuals import Finish
from server.core.kept import Day, days_of, keep_days
from server.core.promises import finish_of
from server.core.world import Cause, DayFinish, Snapshot
from server.core.world.network import forecast
from tests.core.pushes import HOUSE, PLASTER, after
from tests.worlds import DAY, PROJECT, World, on

RAIL, CAP = "garden-stair-rail", "landing-cap"


def kept(world: World, at: datetime) -> Snapshot:
    return keep_days(world.snapshot(), at)


def rows(snapshot: Snapshot, detail_id: str = RAIL) -> dict[date, datetime]:
    found = [row for row in snapshot.finishes.values() if row.detail_id == detail_id]
    return {row.day: row.finish for row in sorted(found, key=lambda row: row.day)}


def seen(world: World, evening: datetime, detail_id: str = RAIL) -> datetime | None:
    """The finish as a page would have shown it late on an evening."""
    status = datetime.combine(evening.date(), time(23, 45))
    return finish_of(world.snapshot(), forecast(world.snapshot(), status), detail_id)


def day(text: str) -> date:
    return on(text).date()


def kept_since(text: str) -> World:
    """The house with the evening of that day kept."""
    return World(kept(HOUSE, on(text) + timedelta(days=1)))


def test_on_the_first_day_the_evening_before_is_kept() -> None:
    assert rows(kept(HOUSE, on("Dec 4 10:00"))) == {day("Dec 3"): seen(HOUSE, on("Dec 3"))}


def test_evenings_over_a_weekend_are_kept_as_they_were_seen() -> None:
    found = rows(kept(kept_since("Dec 3"), on("Dec 8 9:00")))
    days = ["Dec 3", "Dec 4", "Dec 5", "Dec 6", "Dec 7"]
    assert found == {day(text): seen(HOUSE, on(text)) for text in days}
    assert found[day("Dec 4")] < found[day("Dec 5")] == found[day("Dec 7")]  # Friday to Sunday


def test_the_second_change_of_a_day_keeps_nothing_more() -> None:
    first = kept(HOUSE, on("Dec 4 8:00"))
    assert keep_days(first, on("Dec 4 16:00")) is first


def test_an_evening_once_kept_stays_as_it_was() -> None:
    before = kept_since("Dec 3")
    longer = before.with_changed("Base coat", work=9 * DAY)
    found = rows(kept(longer, on("Dec 5 8:00")))
    assert found[day("Dec 3")] == seen(HOUSE, on("Dec 3"))
    assert found[day("Dec 4")] == seen(longer, on("Dec 4"))


def test_after_a_long_time_the_last_sixty_evenings_are_kept() -> None:
    later = on("Dec 3 8:00") + timedelta(days=101)
    found = rows(kept(kept_since("Dec 3"), later))
    assert len(found) == 61
    assert sorted(found)[1] == later.date() - timedelta(days=60)
    assert sorted(found)[-1] == later.date() - timedelta(days=1)


def test_a_detail_that_is_done_is_kept_until_its_finish_stands() -> None:
    world = kept_since("Dec 3")
    done = Finish(activity_id="cap", when=on("Dec 4 12:00"), started=on("Dec 4 8:00"))
    finished = World(after(world, done, at=on("Dec 4 12:00")))
    found = rows(kept(finished, on("Dec 9 8:00")), CAP)
    assert list(found) == [day("Dec 3"), day("Dec 4")]
    assert found[day("Dec 4")] == on("Dec 4 12:00")
    assert len(rows(kept(finished, on("Dec 9 8:00")))) == 6


def test_a_detail_done_otherwise_than_was_kept_is_kept_once_more() -> None:
    done = {"started": on("Dec 4 8:00"), "finished": on("Dec 4 12:00")}
    world = World(kept(kept_since("Dec 3").with_changed("Cap", **done), on("Dec 6 8:00")))
    corrected = world.with_changed("Cap", finished=on("Dec 4 11:00"))
    found = rows(kept(corrected, on("Dec 9 8:00")), CAP)
    assert list(found) == [day("Dec 3"), day("Dec 4"), day("Dec 6")]
    assert found[day("Dec 6")] == on("Dec 4 11:00")


def test_a_detail_that_came_today_has_no_evening_yet() -> None:
    world = kept_since("Dec 3").with_detail("Attic hatch").with_task("Frame it", crew=PLASTER)
    assert rows(kept(world, on("Dec 4 16:00")), "attic-hatch") == {}


def test_a_detail_that_came_with_the_last_change_has_every_evening_since() -> None:
    world = kept_since("Dec 3").with_detail("Attic hatch").with_task("Frame it", crew=PLASTER)
    found = rows(kept(world, on("Dec 8 9:00")), "attic-hatch")
    assert list(found) == [day("Dec 4"), day("Dec 5"), day("Dec 6"), day("Dec 7")]


def test_nothing_is_kept_of_what_is_not_built_and_of_what_is_empty() -> None:
    world = HOUSE.with_changed("Landing cap", ended=on("Dec 2")).with_detail("Attic hatch")
    found = kept(world, on("Dec 4 10:00"))
    assert {row.detail_id for row in found.finishes.values()} == {RAIL}


# -- the days of a detail ------------------------------------------------------------------------


def days(world: World, now: datetime) -> tuple[Day, ...]:
    return days_of(world.snapshot(), forecast(world.snapshot(), now), RAIL, now)


def test_the_days_are_those_kept_those_since_and_now() -> None:
    found = days(kept_since("Dec 3"), on("Dec 5 9:00"))
    assert [one.day for one in found] == [day("Dec 3"), day("Dec 4"), day("Dec 5")]
    assert [one.finish for one in found] == [
        seen(HOUSE, on("Dec 3")),
        seen(HOUSE, on("Dec 4")),
        finish_of(HOUSE.snapshot(), forecast(HOUSE.snapshot(), on("Dec 5 9:00")), RAIL),
    ]


def kept_on(text: str, finish: str) -> DayFinish:
    return DayFinish(
        id=f"{RAIL}{day(text):%Y%m%d}",
        project_id=PROJECT,
        detail_id=RAIL,
        day=day(text),
        finish=on(finish),
    )


def test_a_day_is_later_than_the_one_before_by_working_days() -> None:
    finishes = [
        kept_on("Dec 1", "Dec 9 15:30"),
        kept_on("Dec 2", "Dec 12 15:30"),
        kept_on("Dec 3", "Dec 15 9:00"),
        kept_on("Dec 4", "Dec 11 9:00"),
    ]
    found = days(HOUSE.put(*finishes), on("Dec 5 9:00"))
    assert [one.later for one in found[:-1]] == [0, 3, 1, -2]


def test_what_people_said_stands_with_its_day_and_its_detail() -> None:
    causes = [
        Cause(
            id=id,
            project_id=PROJECT,
            detail_id=detail,
            day=day(text),
            text=id,
            by_id="rufus-orme",
            at=on("Dec 4 9:00"),
        )
        for id, detail, text in [
            ("Rain", RAIL, "Dec 3"),
            ("Truck", RAIL, "Dec 4"),
            ("Ill", RAIL, "Dec 4"),
            ("Glass", CAP, "Dec 4"),
        ]
    ]
    found = days(kept_since("Dec 3").put(*causes), on("Dec 4 9:00"))
    assert [[cause.text for cause in one.causes] for one in found] == [["Rain"], ["Truck", "Ill"]]


def test_a_detail_without_work_has_no_days() -> None:
    world = HOUSE.with_detail("Attic hatch").snapshot()
    schedule = forecast(world, on("Dec 4"))
    assert days_of(world, schedule, "attic-hatch", on("Dec 4")) == ()
