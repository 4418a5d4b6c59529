"""Decisions overdue and due."""

import pytest

from server.core.world import Agreed
from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import DAY, PROJECT, World, a_project, on

OVERDUE, DUE = "decision overdue", "decision due"
WORLD = (
    a_project()
    .with_person("Ada Quill", answers_in=2)
    .with_detail("Garden stair rail")
    .with_task("Shop drawing", started=on("Dec 1"), finished=on("Dec 2"))
    .with_decision("Drawing approved", "Ada Quill", after="Shop drawing")
    .with_task("Set the rail", DAY, after="Drawing approved")
    .with_task("Paint the hall", 6 * DAY, started=on("Dec 1"))
)
"""The hall is painted until Monday, so that the rail can wait until Monday, Dec 8."""
LOOSE = WORLD.with_changed("Paint the hall", work=20 * DAY)
LATE = LOOSE.with_changed("Drawing approved", finish_by=on("Dec 2"))


def promised(world: World, day: str) -> World:
    return world.put(
        Agreed(
            id="agreed-1",
            project_id=PROJECT,
            activity_id="drawing-approved",
            detail_id="garden-stair-rail",
            round=1,
            start=on(day),
            finish=on(day),
            by_id="rufus-orme",
            at=NOW,
        )
    )


@pytest.mark.parametrize("world", [LATE, promised(LOOSE, "Dec 2")], ids=["fixed", "promised"])
def test_a_decision_later_than_the_day_it_was_owed_is_overdue(world: World) -> None:
    found = one(OVERDUE, world)
    assert (found.bad, found.person_id, found.at) == ("in the way", "ada-quill", on("Dec 2"))
    assert found.activity_ids == ("drawing-approved", "set-the-rail")
    assert not of(DUE, world)


def test_one_owed_later_is_not_overdue() -> None:
    assert not of(OVERDUE, promised(LOOSE, "Dec 4"))


def test_an_answer_clears_it() -> None:
    answered = {"started": on("Dec 3"), "finished": on("Dec 3"), "answer": "Yes"}
    assert not of(OVERDUE, LATE.with_changed("Drawing approved", **answered))


def test_what_the_decision_waits_for_is_not_its_persons_delay() -> None:
    world = LATE.with_changed("Shop drawing", started=None, finished=None)
    assert not of(OVERDUE, world)
    assert not of(DUE, world)


def test_a_decision_with_no_more_time_than_its_person_takes_is_due() -> None:
    assert not of(DUE, WORLD)
    at = on("Dec 7")
    found = one(DUE, WORLD, at)
    assert (found.bad, found.person_id) == ("watch", "ada-quill")
    assert one(DUE, WORLD.with_changed("Ada Quill", answers_in=6)).at == found.at


def test_a_decision_that_sets_the_finish_is_due_now() -> None:
    assert one(DUE, WORLD.with_changed("Paint the hall", work=60))


def test_one_that_sets_the_finish_is_owed_once_the_time_that_the_plan_gives_it_has_run_out() -> (
    None
):
    world = WORLD.with_changed("Paint the hall", work=60, started=None).with_changed(
        "Drawing approved", work=5 * DAY
    )
    assert not of(DUE, world)
    assert one(DUE, world, on("Dec 8")).at == on("Dec 8 15:30")
    assert one(OVERDUE, world, on("Dec 9")).at == on("Dec 8 15:30")


def test_the_number_to_call_is_said() -> None:
    world = WORLD.with_changed("Ada Quill", phone="555-0101")
    assert one(DUE, world, on("Dec 7")).sentence.values["phone"] == "555-0101"


def test_letting_the_fixed_day_go_or_promising_anew_mends_it() -> None:
    for world in (LATE, promised(LOOSE, "Dec 2")):
        found = one(OVERDUE, world)
        assert [mend.goto_activity_id for mend in found.mends] == ["drawing-approved", None]
        assert all(OVERDUE not in left for left in mended(world, found))


def test_the_way_to_where_the_answer_is_recorded_is_there_to_press() -> None:
    (mend,) = one(DUE, WORLD, on("Dec 7")).mends
    assert (mend.goto_activity_id, mend.commands) == ("drawing-approved", ())


def test_its_identity_does_not_change_from_day_to_day() -> None:
    assert one(OVERDUE, LATE).identity == one(OVERDUE, LATE, on("Dec 4")).identity
