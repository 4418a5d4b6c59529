"""What a change left is put back, unless something came since that does not go with it."""

from dataclasses import replace
from datetime import date

import pytest

from server.core.changes import Command, change
from server.core.changes.actuals import Finish, Start
from server.core.changes.bookings import AgreeDates, AskVisit
from server.core.changes.holds import Mark
from server.core.changes.people import EndCrew, KeepCrew
from server.core.changes.places import KeepCalendar, KeepPlace
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    AddDetail,
    AddLayer,
    AddSide,
    ChangeActivity,
    ChangeDetail,
    ChangeLayer,
    EndActivity,
    EndDependency,
    EndDetail,
    EndLayer,
    LayerFacts,
)
from server.core.changes.plan_facts import MOST_WORK
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.changes.undoing import Undo
from server.core.rights import ROLES
from server.core.undoable import UNDOABLE
from server.core.world import (
    DayFinish,
    differences,
)
from server.words import say
from tests.core.changes.pressing import NOW
from tests.core.changes.putting_back import (
    WHAT,
    made,
    rail,
    redone,
    refused,
    undone,
    unversioned,
)
from tests.worlds import DAY, PROJECT, actor, on

FRAME_AGAIN = AddActivity(
    id="sand", detail_id="rail", facts=ActivityFacts(name="Sand", work=DAY), after=("base-coat",)
)
KINDS = {
    "something added": FRAME_AGAIN,
    "something changed": ChangeWork(activity_id="base-coat", work=2 * DAY),
    "something put off": PutOff(activity_id="base-coat", until=on("Dec 15")),
    "something taken out": EndActivity(activity_id="hang-board"),
    "a layer taken out": EndLayer(layer_id="board"),
    "a dependency taken out": EndDependency(dependency_id="frame>hang-board"),
    "a detail ended": EndDetail(detail_id="rail", reason="Cut"),
    "a place kept": KeepPlace(id="loft", name="Loft", floor_id="main-floor"),
    "a crew of a new trade": KeepCrew(id="new", name="Larch Glazing", trade="glass"),
}


@pytest.mark.parametrize("command", KINDS.values(), ids=KINDS)
def test_the_world_is_as_before_and_done_again_as_after(command: Command) -> None:
    before = rail().snapshot()
    after, rows = made(before, command)
    back, its_rows = undone(after, rows)
    assert unversioned(back) == unversioned(before)
    assert unversioned(redone(back, its_rows)) == unversioned(after)


def test_it_says_what_was_undone() -> None:
    after, rows = made(rail().snapshot(), FRAME_AGAIN)
    said = change(after, actor(after), Undo(entry_id="e", rows=rows, what=WHAT), NOW).said
    assert say(said) == "Undone: Somebody has seen what changed."


def test_an_undoing_of_nothing_is_refused() -> None:
    world = rail().snapshot()
    assert (
        refused(lambda: change(world, actor(world), Undo(entry_id="e"), NOW))[0] == "undo.nothing"
    )


def test_versions_go_on_counting_up_for_a_row_that_is_put_back() -> None:
    after, rows = made(rail().snapshot(), ChangeWork(activity_id="base-coat", work=60))
    assert after.activities["base-coat"].version == 2
    assert undone(after, rows)[0].activities["base-coat"].version == 3


def test_versions_go_on_counting_up_for_a_row_that_comes_back() -> None:
    after, rows = made(rail().snapshot(), EndDependency(dependency_id="frame>hang-board"))
    back, its_rows = undone(after, rows)
    assert back.dependencies["frame>hang-board"].version == 2
    gone = redone(back, its_rows)
    assert "frame>hang-board" not in gone.dependencies


# -- what somebody else did since ----------------------------------------------------------------


def test_a_row_that_was_changed_since_is_not_put_back() -> None:
    after, rows = made(rail().snapshot(), PutOff(activity_id="base-coat", until=on("Dec 15")))
    since, _ = made(after, ChangeWork(activity_id="base-coat", work=60))
    id, row = refused(lambda: undone(since, rows))
    assert (id, row and row.id) == ("undo.changed", "base-coat")


def test_a_row_that_was_changed_and_changed_back_is_put_back() -> None:
    after, rows = made(rail().snapshot(), PutOff(activity_id="base-coat", until=on("Dec 15")))
    since, others = made(after, ChangeWork(activity_id="base-coat", work=60))
    back, _ = undone(since, others)
    assert undone(back, rows)[0].activities["base-coat"].not_before is None


def test_a_row_that_was_taken_out_since_does_not_come_back() -> None:
    added = AddDependency(id="d", before_id="frame", after_id="base-coat")
    after, rows = made(rail().snapshot(), added)
    since, _ = made(after, EndDependency(dependency_id="d"))
    assert refused(lambda: undone(since, rows))[0] == "undo.changed"


NEEDED: dict[str, tuple[Command, Command]] = {
    "a dependency": (
        FRAME_AGAIN,
        AddDependency(id="d", before_id="frame", after_id="sand"),
    ),
    "a visit": (
        replace(
            FRAME_AGAIN, facts=ActivityFacts(name="Sand", work=DAY, crew_id="ninepail-plaster")
        ),
        AskVisit(id="v", activity_ids=("sand",), start=on("Dec 8"), finish=on("Dec 8 15:00")),
    ),
    "a promised date": (FRAME_AGAIN, AgreeDates(detail_id="rail")),
    "work on a layer": (
        AddLayer(id="lath", side_id="rail-stair-side", facts=LayerFacts(name="L", material="w")),
        ChangeActivity(
            activity_id="base-coat", facts=ActivityFacts(name="B", work=DAY, puts_in={"lath": ()})
        ),
    ),
    "a side of a detail": (
        AddDetail(id="bench", name="Bench", sheet="D2"),
        AddSide(id="s", detail_id="bench", name="Top"),
    ),
    "a crew on work with others": (
        KeepCrew(id="new", name="Larch Glazing", trade="metal"),
        ChangeActivity(
            activity_id="frame",
            facts=ActivityFacts(
                name="Frame", work=DAY, crew_id="ore-street-metal", with_crew_ids=("new",)
            ),
        ),
    ),
    "a place that is open to it": (
        KeepPlace(id="loft", name="Loft", floor_id="main-floor"),
        KeepPlace(id="landing", name="Landing", floor_id="main-floor", open_to=("loft",)),
    ),
}


@pytest.mark.parametrize(("command", "since"), NEEDED.values(), ids=NEEDED)
def test_what_something_hangs_on_by_now_stays(command: Command, since: Command) -> None:
    after, rows = made(rail().snapshot(), command)
    later, _ = made(after, since)
    assert refused(lambda: undone(later, rows))[0] == "undo.needed"


def test_what_would_come_back_to_something_that_is_gone_does_not() -> None:
    world = rail().snapshot()
    crew = KeepCrew(id="new", name="Larch Glazing", trade="metal")
    first, of_crew = made(world, crew)
    work = replace(FRAME_AGAIN, facts=ActivityFacts(name="Sand", work=DAY, crew_id="new"))
    second, of_work = made(first, work)
    without_work, its_rows = undone(second, of_work)
    without_crew, _ = undone(without_work, of_crew)
    assert refused(lambda: redone(without_crew, its_rows))[0] == "undo.not_there"


def test_work_does_not_come_back_to_a_crew_that_has_ended() -> None:
    facts = ActivityFacts(name="Frame", work=DAY, puts_in={"studs": ()})
    after, rows = made(rail().snapshot(), ChangeActivity(activity_id="frame", facts=facts))
    since, _ = made(after, EndCrew(crew_id="ore-street-metal"))
    id, row = refused(lambda: undone(since, rows))
    assert (id, row and row.id) == ("undo.ended", "ore-street-metal")


def test_a_dependency_does_not_come_back_to_work_that_has_been_taken_out() -> None:
    after, rows = made(rail().snapshot(), EndDependency(dependency_id="frame>hang-board"))
    since, _ = made(after, EndActivity(activity_id="frame"))
    assert refused(lambda: undone(since, rows))[0] == "undo.ended"


def test_a_dependency_that_closes_a_ring_by_now_does_not_come_back() -> None:
    after, rows = made(rail().snapshot(), EndDependency(dependency_id="frame>hang-board"))
    since, _ = made(after, AddDependency(id="d", before_id="base-coat", after_id="frame"))
    assert refused(lambda: undone(since, rows))[0] == "plan.ring"


def test_a_dependency_does_not_come_back_beside_the_same_one() -> None:
    after, rows = made(rail().snapshot(), EndDependency(dependency_id="frame>hang-board"))
    since, _ = made(after, AddDependency(id="d", before_id="frame", after_id="hang-board"))
    id, row = refused(lambda: undone(since, rows))
    assert (id, row and row.id) == ("undo.doubled", "d")


def test_a_name_that_something_else_has_by_now_does_not_come_back() -> None:
    other = ChangeDetail(detail_id="rail", name="Guard", sheet="D1")
    after, rows = made(rail().snapshot(), other)
    since, _ = made(after, AddDetail(id="bench", name="RAIL", sheet="D2"))
    id, row = refused(lambda: undone(since, rows))
    assert (id, row and row.id) == ("undo.name_taken", "bench")


def test_parts_that_something_names_by_now_stay() -> None:
    world = rail().with_changed("Board", parts=0).snapshot()
    facts = LayerFacts(name="Board", material="wood", parts=6)
    after, rows = made(world, ChangeLayer(layer_id="board", facts=facts))
    names_it = ActivityFacts(name="Base coat", work=DAY, covers={"board": (6,)})
    since, _ = made(after, ChangeActivity(activity_id="base-coat", facts=names_it))
    assert refused(lambda: undone(since, rows))[0] == "undo.part_named"


def test_layers_do_not_come_to_lie_within_one_another() -> None:
    inside = LayerFacts(name="Studs", material="wood", parts=4, within_id="board")
    world, _ = made(rail().snapshot(), ChangeLayer(layer_id="studs", facts=inside))
    out = ChangeLayer(layer_id="studs", facts=replace(inside, within_id=None))
    after, rows = made(world, out)
    other = LayerFacts(name="Board", material="wood", parts=4, within_id="studs")
    since, _ = made(after, ChangeLayer(layer_id="board", facts=other))
    assert refused(lambda: undone(since, rows))[0] == "plan.within_itself"


def test_places_do_not_come_to_be_open_to_one_another() -> None:
    world = rail().with_place("Well", open_to=("landing",)).snapshot()
    closed = KeepPlace(id="well", name="Well", floor_id="main-floor")
    after, rows = made(world, closed)
    below = KeepPlace(id="landing", name="Landing", floor_id="main-floor", open_to=("well",))
    since, _ = made(after, below)
    assert refused(lambda: undone(since, rows))[0] == "places.open_both_ways"


def test_hours_by_which_no_dates_could_be_worked_out_do_not_come_back() -> None:
    week = rail().snapshot().calendars["site"]
    world = rail().put(replace(week, shifts=("0 07:00 07:01",))).snapshot()
    hours = KeepCalendar(id="site", name=week.name, shifts=week.shifts)
    after, rows = made(world, hours)
    years = [ChangeWork(activity_id=id, work=MOST_WORK) for id in ("frame", "hang-board")]
    since, _ = made(after, *years)
    assert refused(lambda: undone(since, rows))[0] == "undo.no_dates"


def test_work_that_comes_back_from_its_end_does_not_count_on_a_crew_that_has_ended() -> None:
    for command in (EndActivity(activity_id="frame"), EndDetail(detail_id="rail", reason="Cut")):
        after, rows = made(rail().snapshot(), command)
        since, _ = made(after, EndCrew(crew_id="ore-street-metal"))
        id, row = refused(lambda rows=rows, since=since: undone(since, rows))
        assert (id, row and row.id) == ("undo.ended", "ore-street-metal")


def test_what_was_done_to_layers_stays_once_the_work_is_done() -> None:
    covers = ActivityFacts(name="Base coat", work=DAY, covers={"board": ()})
    after, rows = made(rail().snapshot(), ChangeActivity(activity_id="base-coat", facts=covers))
    finish = Finish(activity_id="base-coat", when=NOW, started=on("Dec 3"), anyway="They did")
    since, _ = made(after, finish)
    id, row = refused(lambda: undone(since, rows))
    assert (id, row and row.id) == ("plan.done_already", "base-coat")


def test_work_does_not_come_to_put_in_what_it_hides() -> None:
    both = rail().with_effect("Base coat", "covers", "Board").snapshot()
    neither = ActivityFacts(name="Base coat", work=DAY)
    after, rows = made(both, ChangeActivity(activity_id="base-coat", facts=neither))
    puts_in = replace(neither, puts_in={"board": ()})
    since, _ = made(after, ChangeActivity(activity_id="base-coat", facts=puts_in))
    assert refused(lambda: undone(since, rows))[0] == "undo.doubled"


# -- done again ----------------------------------------------------------------------------------


def test_work_is_not_taken_out_again_when_a_crew_is_asked_for_it_by_now() -> None:
    after, rows = made(rail().snapshot(), EndActivity(activity_id="frame"))
    back, its_rows = undone(after, rows)
    asked = AskVisit(id="v", activity_ids=("frame",), start=on("Dec 8"), finish=on("Dec 8 15:00"))
    since, _ = made(back, asked)
    assert refused(lambda: redone(since, its_rows))[0] == "plan.still_booked"


def test_work_is_not_taken_out_again_when_something_comes_after_it_by_now() -> None:
    after, rows = made(rail().snapshot(), EndActivity(activity_id="frame"))
    back, its_rows = undone(after, rows)
    since, _ = made(back, AddDependency(id="d", before_id="frame", after_id="base-coat", type="SS"))
    assert refused(lambda: redone(since, its_rows))[0] == "undo.needed"


def test_a_detail_is_not_ended_again_when_another_waits_on_it_by_now() -> None:
    world = rail().with_detail("Guard").with_task("Set glass").snapshot()
    after, rows = made(world, EndDetail(detail_id="rail", reason="Cut"))
    back, its_rows = undone(after, rows)
    since, _ = made(back, AddDependency(id="d", before_id="base-coat", after_id="set-glass"))
    assert refused(lambda: redone(since, its_rows))[0] == "plan.detail_awaited"


def test_a_layer_is_not_taken_out_again_when_it_was_worked_on_by_now() -> None:
    after, rows = made(rail().snapshot(), EndLayer(layer_id="studs"))
    back, its_rows = undone(after, rows)
    since, _ = made(back, Start(activity_id="frame", when=on("Dec 3")))
    assert refused(lambda: redone(since, its_rows))[0] == "plan.layer_worked_on"


def test_a_check_that_was_marked_by_now_is_not_taken_out_again_without_a_reason() -> None:
    world = rail().with_check("Look", own_mark_ok=True).snapshot()
    after, rows = made(world, EndActivity(activity_id="look"))
    back, its_rows = undone(after, rows)
    since, _ = made(back, Mark(id="m", hold_id="look-check"))
    assert refused(lambda: redone(since, its_rows))[0] == "undo.needed"


# -- what is kept along --------------------------------------------------------------------------


def evening(detail_id: str) -> DayFinish:
    return DayFinish(
        id=f"{detail_id}1", project_id=PROJECT, detail_id=detail_id, day=date(2025, 12, 2),
        finish=on("Dec 9"),
    )  # fmt: skip


def test_evenings_that_were_kept_along_with_a_change_stay() -> None:
    before = rail().snapshot()
    after, _ = made(before.put(evening("rail")), FRAME_AGAIN)
    back, _ = undone(after, tuple(differences(before, after)))
    assert "rail1" in back.finishes
    assert "sand" not in back.activities


def test_evenings_of_a_detail_go_with_it_and_come_back_with_it() -> None:
    after, rows = made(rail().snapshot(), AddDetail(id="bench", name="Bench", sheet="D2"))
    back, its_rows = undone(after.put(evening("bench")), rows)
    assert not back.finishes
    assert redone(back, its_rows).finishes["bench1"].finish == on("Dec 9")


# -- the table -----------------------------------------------------------------------------------


def test_only_what_is_the_supers_can_be_undone() -> None:
    assert all(ROLES[name] == {"super"} for name in UNDOABLE)


@pytest.mark.parametrize(
    "name",
    ["Mark", "Release", "AddPhoto", "AddReading", "Answer", "AnswerVisit", "AskVisit", "AgreePush",
     "AgreeDates", "Hear", "TakeBack", "Start", "Finish", "KeepPerson", "EndPerson", "EndCrew",
     "Give", "MoveClock", "Undo", "Redo"],
)  # fmt: skip
def test_what_happened_or_was_heard_of_is_never_undone(name: str) -> None:
    assert name in ROLES
    assert name not in UNDOABLE
