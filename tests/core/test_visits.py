"""Which visit counts for a task, and when one could be."""

from server.core.visits import end_of, first_day, visit_for
from tests.worlds import HOUR, a_project, on

DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
CREW = "Hobnail Millwork"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_place("Garden stair")
    .with_detail("Garden stair rail")
    .with_task("Template", crew=CREW, **DONE)
    .with_delivery("Rail", after="Template", ordered=on("Dec 2"), promised=on("Dec 8"))
    .with_task("Set the rail", crew=CREW, after="Rail", place_id="garden-stair")
    .with_booking(CREW, "Set the rail", on("Dec 9"), on("Dec 9 15:30"))
)


def test_the_first_day_is_the_first_whole_one() -> None:
    snapshot = WORLD.snapshot()
    task = snapshot.activities["set-the-rail"]
    assert first_day(snapshot, task, on("Dec 4")) == on("Dec 4")
    assert first_day(snapshot, task, on("Dec 4 9:00")) == on("Dec 5")
    assert first_day(snapshot, task, on("Dec 5 9:00")) == on("Dec 8")


def test_a_visit_lasts_as_long_as_its_tasks_and_no_less_than_the_least() -> None:
    snapshot = WORLD.with_task("Oil", HOUR, crew=CREW).snapshot()
    rail, oil = snapshot.activities["set-the-rail"], snapshot.activities["oil"]
    assert end_of(snapshot, (rail, oil), on("Dec 4")) == on("Dec 5 8:00")
    assert end_of(snapshot, (oil,), on("Dec 4")) == on("Dec 4 11:00")


def test_a_visit_that_was_refused_counts_only_where_there_is_no_other() -> None:
    refused = WORLD.with_changed("hobnail-millwork-1", state="can't come")
    found = visit_for(refused.snapshot(), "set-the-rail")
    assert found is not None
    assert found.state == "can't come"
    again = refused.with_booking(CREW, "Set the rail", on("Dec 12"), on("Dec 12 15:30"))
    found = visit_for(again.snapshot(), "set-the-rail")
    assert found is not None
    assert found.start == on("Dec 12")


def test_nothing_lasts_a_minute_at_least() -> None:
    snapshot = WORLD.with_changed(CREW, least_visit=0).with_task("Look", 1, crew=CREW).snapshot()
    assert end_of(snapshot, (snapshot.activities["look"],), on("Dec 4")) == on("Dec 4 7:01")
