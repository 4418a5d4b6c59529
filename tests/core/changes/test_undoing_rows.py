"""Rows that were moved, copied, split or merged are put back as they were, or stay by a name."""

from dataclasses import replace

import pytest

from server.core.changes import Command
from server.core.changes.actuals import Start
from server.core.changes.bookings import AgreeDates, AskVisit
from server.core.changes.holds import Mark
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddLayer,
    AddSide,
    ChangeActivity,
    ChangeDependency,
    EndDependency,
    EndDetail,
    EndLayer,
    LayerFacts,
)
from server.core.changes.plan_rows import (
    ChangeSide,
    CopyActivities,
    EndSide,
    MergeActivities,
    MoveActivities,
    MoveActivity,
    MoveLayer,
    SplitActivity,
)
from tests.core.changes.putting_back import made, rail, redone, refused, undone, unversioned
from tests.worlds import DAY, HOUR, World, on

SPLIT = SplitActivity(
    id="rest", activity_id="hang-board", name="Hang board", work=3 * HOUR, second_name="Hang rest"
)
MERGE = MergeActivities(first_id="hang-board", second_id="base-coat", name="Board and coat")
COPY = CopyActivities(id="copy", activity_ids=("frame", "hang-board"), to_detail_id="rail")
MOVE = MoveActivities(activity_ids=("base-coat",), to_detail_id="guard")
AGREE = AgreeDates(detail_id="rail", reason="Again")
VISIT = AskVisit(id="v", activity_ids=("hang-board",), start=on("Dec 8"), finish=on("Dec 8 15:00"))
HIDES_NOTHING = ChangeActivity(
    activity_id="hang-board",
    facts=ActivityFacts(
        name="Hang board", work=3 * HOUR, crew_id="ninepail-plaster", puts_in={"board": ()}
    ),
)


def two_rails() -> World:
    """The rail and an empty guard; one crew does the board and the coat."""
    return (
        rail()
        .with_changed("Hang board", crew_id="ninepail-plaster")
        .with_changed("Base coat", crew_id="ninepail-plaster")
        .with_detail("Guard")
    )


def after(before_id: str) -> AddActivity:
    """A day of sanding after an activity."""
    facts = ActivityFacts(name="Sand", work=DAY)
    return AddActivity(id="sand", detail_id="rail", facts=facts, after=(before_id,))


KINDS: dict[str, tuple[Command, ...]] = {
    "a row listed elsewhere": (MoveActivity(activity_id="base-coat", behind_id=None),),
    "rows moved to another detail": (MOVE,),
    "rows copied": (COPY,),
    "a task split": (SPLIT,),
    "a task split that was promised and asked for": (AGREE, VISIT, SPLIT),
    "tasks merged": (MERGE,),
    "tasks merged that were promised": (AGREE, MERGE),
    "a side renamed": (ChangeSide(side_id="rail-stair-side", name="Top", behind_id=None),),
    "a side taken out": (EndSide(side_id="guard-stair-side"),),
    "a layer moved": (MoveLayer(layer_id="board", over_id=None),),
}


@pytest.mark.parametrize("commands", KINDS.values(), ids=KINDS)
def test_the_world_is_as_before_and_done_again_as_after(commands: tuple[Command, ...]) -> None:
    *earlier, last = commands
    before, _ = made(two_rails().snapshot(), *earlier)
    done, rows = made(before, last)
    back, its_rows = undone(done, rows)
    assert unversioned(back) == unversioned(before) != unversioned(done)
    assert unversioned(redone(back, its_rows)) == unversioned(done)


NEEDED: dict[str, tuple[Command, Command, str]] = {
    "a task after a copy": (COPY, after("copyb"), "undo.needed"),
    "a promise of a copy": (COPY, AGREE, "undo.needed"),
    "a copy that was begun": (
        COPY,
        Start(activity_id="copyb", when=on("Dec 3"), anyway="They did"),
        "undo.changed",
    ),
    "a visit for a second half": (
        SPLIT,
        AskVisit(id="v", activity_ids=("rest",), start=on("Dec 8"), finish=on("Dec 8 15:00")),
        "undo.needed",
    ),
    "a second half that was begun": (
        SPLIT,
        Start(activity_id="rest", when=on("Dec 3"), anyway="They did"),
        "undo.changed",
    ),
    "dates promised for both halves": (SPLIT, AGREE, "undo.needed"),
    "a layer on a side": (
        AddSide(id="top", detail_id="rail", name="Top"),
        AddLayer(id="cap", side_id="top", facts=LayerFacts(name="Cap", material="oak")),
        "undo.needed",
    ),
    "a side of its name": (
        EndSide(side_id="guard-stair-side"),
        AddSide(id="other", detail_id="guard", name="STAIR SIDE"),
        "undo.name_taken",
    ),
}


@pytest.mark.parametrize(("command", "since", "id"), NEEDED.values(), ids=NEEDED)
def test_what_something_hangs_on_by_now_stays(command: Command, since: Command, id: str) -> None:
    done, rows = made(two_rails().snapshot(), command)
    later, its_rows = made(done, since)
    assert refused(lambda: undone(later, rows, its_rows))[0] == id


# -- work that was shared out --------------------------------------------------------------------


SHARED: dict[str, tuple[Command, Command]] = {
    "a visit for both that were merged": (MERGE, VISIT),
    "dates promised for both that were merged": (MERGE, AGREE),
    "a task after both that were merged": (MERGE, after("hang-board")),
    "a task after the first half": (SPLIT, after("hang-board")),
    "a layer that the first half hides no more": (SPLIT, HIDES_NOTHING),
}


@pytest.mark.parametrize(("command", "since"), SHARED.values(), ids=SHARED)
def test_work_is_not_shared_out_as_before_when_something_came_to_it(
    command: Command, since: Command
) -> None:
    done, rows = made(two_rails().snapshot(), command)
    later, its_rows = made(done, since)
    assert refused(lambda: undone(later, rows, its_rows))[0] == "undo.came_since"


@pytest.mark.parametrize("since", [AGREE, VISIT, after("hang-board")])
def test_a_task_is_not_split_again_when_something_came_to_the_whole(since: Command) -> None:
    done, rows = made(two_rails().snapshot(), SPLIT)
    back, its_rows = undone(done, rows)
    later, came = made(back, since)
    assert refused(lambda: redone(later, its_rows, came))[0] == "undo.came_since"


@pytest.mark.parametrize("since", [AGREE, after("hang-board")])
def test_tasks_are_not_merged_again_when_something_came_to_the_first(since: Command) -> None:
    done, rows = made(two_rails().snapshot(), MERGE)
    back, its_rows = undone(done, rows)
    later, came = made(back, since)
    assert refused(lambda: redone(later, its_rows, came))[0] == "undo.came_since"


def test_what_was_there_before_tasks_were_merged_is_no_hindrance() -> None:
    before, _ = made(two_rails().snapshot(), AGREE, after("hang-board"))
    done, rows = made(before, MERGE)
    aside, came = made(done, ChangeDependency(dependency_id="frame>hang-board", lag=60))
    assert refused(lambda: undone(aside, rows, came))[0] == "undo.came_since"
    assert unversioned(undone(done, rows)[0]) == unversioned(before)


def test_a_merged_task_does_not_come_back_to_a_layer_that_was_taken_out() -> None:
    world = two_rails().with_layer("Felt").with_side("Top")
    world = world.with_changed("Felt", detail_id="rail", side_id="rail-stair-side", order=9)
    before = world.with_effect("Base coat", "covers", "Felt").snapshot()
    done, rows = made(before, MERGE)
    later, came = made(done, EndLayer(layer_id="felt"))
    assert refused(lambda: undone(later, rows, came))[0] == "undo.changed"


# -- work that was moved to another detail -------------------------------------------------------


def test_moved_work_stays_when_a_crew_is_asked_for_it_by_now() -> None:
    done, rows = made(two_rails().snapshot(), MOVE)
    asked = AskVisit(
        id="v", activity_ids=("base-coat",), start=on("Dec 8"), finish=on("Dec 8 15:00")
    )
    later, _ = made(done, asked)
    id, row = refused(lambda: undone(later, rows))
    assert (id, row and row.id) == ("plan.still_booked", "v")


def test_a_moved_check_stays_when_it_was_marked_by_now() -> None:
    world = rail().with_check("Look", own_mark_ok=True).with_detail("Guard").snapshot()
    done, rows = made(world, MoveActivities(activity_ids=("look",), to_detail_id="guard"))
    later, _ = made(done, Mark(id="m", hold_id="look-check"))
    id, row = refused(lambda: undone(later, rows))
    assert (id, row and row.id) == ("plan.moved_too_late", "m")


@pytest.mark.parametrize("detail_id", ["rail", "guard"])
def test_moved_work_stays_when_one_of_its_details_has_ended(detail_id: str) -> None:
    world, _ = made(two_rails().snapshot(), EndDependency(dependency_id="hang-board>base-coat"))
    done, rows = made(world, MOVE)
    later, _ = made(done, EndDetail(detail_id=detail_id, reason="Cut"))
    id, row = refused(lambda: undone(later, rows))
    assert (id, row and row.id) == ("undo.ended", detail_id)


def test_moved_work_stays_when_it_does_something_to_the_layers_there_by_now() -> None:
    world = two_rails().with_layer("Glass").snapshot()
    done, rows = made(world, MOVE)
    facts = ActivityFacts(
        name="Base coat", work=DAY, crew_id="ninepail-plaster", puts_in={"glass": ()}
    )
    later, _ = made(done, ChangeActivity(activity_id="base-coat", facts=facts))
    assert refused(lambda: undone(later, rows))[0] == "undo.elsewhere"


def test_what_work_did_to_a_layer_does_not_come_back_to_it_in_another_detail() -> None:
    before = two_rails().with_effect("Base coat", "covers", "Board").snapshot()
    facts = ActivityFacts(name="Base coat", work=DAY, crew_id="ninepail-plaster")
    done, rows = made(before, ChangeActivity(activity_id="base-coat", facts=facts))
    later, _ = made(done, MOVE)
    assert refused(lambda: undone(later, rows))[0] == "undo.elsewhere"


def test_what_hangs_together_is_worked_out_anew_when_work_goes_back() -> None:
    before = two_rails().snapshot()
    done, rows = made(before, MOVE)
    assert done.hanging_together["rail"] == {"rail", "guard"}
    assert undone(done, rows)[0].hanging_together["rail"] == {"rail"}


# -- layers and sides ----------------------------------------------------------------------------


def test_a_layer_does_not_come_back_to_where_another_lies_by_now() -> None:
    world = two_rails().snapshot()
    done, rows = made(world, MoveLayer(layer_id="studs", over_id="board"))
    felt = LayerFacts(name="Felt", material="wool")
    later, _ = made(done, AddLayer(id="felt", side_id="rail-stair-side", facts=felt))
    taken = later.put(replace(later.layers["felt"], order=world.layers["studs"].order))
    id, row = refused(lambda: undone(taken, rows))
    assert (id, row and row.id) == ("undo.doubled", "felt")


def test_a_layer_that_went_with_its_side_does_not_come_back_alone() -> None:
    world = rail().with_side("Top").with_layer("Cap").snapshot()
    done, rows = made(world, EndLayer(layer_id="cap"))
    later, _ = made(done, EndSide(side_id="rail-top"))
    assert refused(lambda: undone(later, rows))[0] == "undo.changed"
