"""A task in two, and two tasks of one crew made one: what binds which, what hides what when."""

from typing import Any

import pytest

from server.core.changes.plan_rows import MergeActivities, SplitActivity
from server.core.cover import contradicted, covering, last_look, undrawn
from server.core.promises import promised
from server.core.states import layer_state
from server.core.world import Agreed, Snapshot
from server.core.world.network import forecast
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import DAY, HOUR, PROJECT, World, a_project, on

CREW = "Ninepail Plaster"
WORLD = (
    a_project()
    .with_crew(CREW, trade="plaster")
    .with_crew("Hobnail Millwork")
    .with_place("Garden stair")
    .with_detail("Garden stair rail", place_id="garden-stair")
    .with_layer("Studs", parts=6)
    .with_layer("Wire", within_id="studs")
    .with_layer("Board", material="board")
    .with_task("Frame", puts_in="Studs", started=on("Dec 1"), finished=on("Dec 2"))
    .with_check("Plumb", after="Frame", layers="Studs", parts=6)
    .with_task("Hang board", 6 * HOUR, crew=CREW, after="Plumb", puts_in="Board", covers="Studs",
               low=4 * HOUR, high=8 * HOUR, tag="P")
    .with_task("Tape", crew=CREW, after="Hang board")
    .with_task("Shelf", crew="Hobnail Millwork")
    .with_dependency("Hang board", "Shelf", type="SS", lag=60)
)  # fmt: skip


def split(**other: Any) -> SplitActivity:
    said = {"id": "half", "activity_id": "hang-board", "name": "Hang board, low",
            "work": 2 * HOUR, "second_name": "Hang board, high"}  # fmt: skip
    return SplitActivity(**{**said, **other})


def merged(first: str = "hang-board", second: str = "tape", **other: Any) -> MergeActivities:
    return MergeActivities(first_id=first, second_id=second, **other)


def bounds(snapshot: Snapshot) -> set[tuple[str, str, str]]:
    return {(d.before_id, d.after_id, d.type) for d in snapshot.dependencies.values()}


def doing(snapshot: Snapshot, id: str) -> set[tuple[str, str, tuple[int, ...]]]:
    return {(e.verb, e.layer_id, e.parts) for e in snapshot.effects_of.get(id, ())}


def begun(world: World, task: str) -> World:
    return world.with_changed(task, started=on("Dec 2"))


# -- in two ---------------------------------------------------------------------------------------


def test_the_second_half_stands_behind_the_first_and_has_the_rest_of_the_time() -> None:
    after = pressed(WORLD, split())
    first, second = after.activities["hang-board"], after.activities["half"]
    assert [a.name for a in after.chain][2:4] == ["Hang board, low", "Hang board, high"]
    assert (first.work, second.work) == (2 * HOUR, 4 * HOUR)
    assert (first.low, second.low) == (80, 160)
    assert (first.high, second.high) == (160, 320)
    assert (first.tag, second.crew_id) == ("", "ninepail-plaster")


def test_a_time_can_be_given_for_each() -> None:
    after = pressed(WORLD, split(second_work=DAY))
    assert after.activities["half"].work == DAY


def test_what_goes_by_the_start_stays_with_the_first_what_goes_by_the_end_with_the_second() -> None:
    world = WORLD.with_task("Wire test").with_dependency("Wire test", "Hang board", type="FF")
    world = world.with_changed("hang-board>tape", lag=120, most=600)
    after = pressed(world, split())
    assert bounds(after) == {
        ("frame", "plumb", "FS"),
        ("plumb", "hang-board", "FS"),
        ("hang-board", "half", "FS"),
        ("half", "tape", "FS"),
        ("hang-board", "shelf", "SS"),
        ("wire-test", "half", "FF"),
    }
    kept = after.dependencies["hang-board>tape"]
    assert (kept.lag, kept.most) == (120, 600)


def test_all_other_dates_stay() -> None:
    before, after = (
        forecast(snapshot, NOW) for snapshot in (WORLD.snapshot(), pressed(WORLD, split()))
    )
    for id in ("frame", "plumb", "tape", "shelf"):
        assert after[id].early_start == before[id].early_start
    assert after["half"].early_finish == before["hang-board"].early_finish


def test_dates_that_hold_the_whole_hold_the_end_they_are_about() -> None:
    world = WORLD.with_changed("Hang board", not_before=on("Dec 8"), finish_by=on("Dec 12"))
    after = pressed(world, split())
    first, second = after.activities["hang-board"], after.activities["half"]
    assert (first.not_before, first.finish_by) == (on("Dec 8"), None)
    assert (second.not_before, second.finish_by) == (None, on("Dec 12"))


def test_by_parts_each_half_hides_its_own() -> None:
    after = pressed(WORLD, split(parts={"studs": (1, 2, 3)}))
    assert ("covers", "studs", (1, 2, 3)) in doing(after, "hang-board")
    assert ("covers", "studs", (4, 5, 6)) in doing(after, "half")


def test_parts_that_are_all_of_it_leave_nothing_on_that_layer_to_the_second() -> None:
    after = pressed(WORLD, split(parts={"studs": (1, 2, 3, 4, 5, 6)}))
    assert ("covers", "studs", ()) in doing(after, "hang-board")
    assert doing(after, "half") == {("puts in", "board", ())}


def test_without_parts_a_layer_is_in_the_open_only_when_both_halves_are_done() -> None:
    after = World(pressed(WORLD, split()))
    first = after.with_changed("hang-board", started=on("Dec 3"), finished=on("Dec 3 09:00"))
    board = first.snapshot().layers["board"]
    assert layer_state(first.snapshot(), board) == "going in"
    both = first.with_changed("half", started=on("Dec 3 09:00"), finished=on("Dec 3 10:00"))
    assert layer_state(both.snapshot(), board) == "in the open"


def test_without_parts_it_is_hidden_from_when_the_first_half_begins() -> None:
    after = pressed(WORLD, split())
    hold = after.holds["plumb-check"]
    assert [a.id for a in covering(after, hold)] == ["hang-board", "half"]
    look = last_look(after, forecast(after, NOW), hold)
    assert look is not None
    assert look.work.id == "hang-board"


def test_a_split_draws_no_order_that_layers_contradict() -> None:
    world = WORLD.with_effect("Hang board", "puts in", "Wire")
    before = world.snapshot()
    assert (undrawn(before), contradicted(before)) == ((), ())
    after = pressed(world, split())
    assert ("covers", "studs", ()) not in doing(after, "hang-board")
    assert ("covers", "studs", ()) in doing(after, "half")
    assert (undrawn(after), contradicted(after)) == ((), ())


def test_what_is_opened_up_is_open_only_when_the_second_half_is_done() -> None:
    after = pressed(WORLD.with_effect("Hang board", "opens", "Wire"), split())
    assert ("opens", "wire", ()) not in doing(after, "hang-board")
    assert ("opens", "wire", ()) in doing(after, "half")


def test_an_edge_a_way_and_a_scaffold_are_gone_from_the_first_and_back_with_the_second() -> None:
    world = WORLD.with_way("Stair").with_way("Ladder")
    opening = world.with_changed("Hang board", edge="opens", closes_way_id="stair",
                                 opens_way_id="ladder")  # fmt: skip
    after = pressed(opening, split())
    first, second = after.activities["hang-board"], after.activities["half"]
    assert (first.edge, first.closes_way_id, first.opens_way_id) == ("opens", "stair", None)
    assert (second.edge, second.closes_way_id, second.opens_way_id) == ("", None, "ladder")
    closing = pressed(WORLD.with_changed("Hang board", edge="closes"), split())
    assert (closing.activities["hang-board"].edge, closing.activities["half"].edge) == (
        "",
        "closes",
    )


def test_a_visit_asked_for_the_whole_is_for_both() -> None:
    world = WORLD.with_booking(CREW, ("Hang board", "Tape"), on("Dec 9"), on("Dec 9 15:30"))
    visit = pressed(world, split()).bookings["ninepail-plaster-1"]
    assert visit.activity_ids == ("hang-board", "half", "tape")


def test_what_was_promised_for_the_whole_is_promised_for_both() -> None:
    promise = Agreed(id="p", project_id=PROJECT, activity_id="hang-board", round=1,
                     detail_id="garden-stair-rail", start=on("Dec 9"), finish=on("Dec 9 13:30"),
                     by_id="rufus-orme", at=on("Dec 1"))  # fmt: skip
    after = pressed(WORLD.put(promise), split())
    rows = promised(after, "garden-stair-rail")
    assert (rows["hang-board"].start, rows["hang-board"].finish) == (on("Dec 9"), on("Dec 9 09:00"))
    assert (rows["half"].start, rows["half"].finish) == (on("Dec 9 09:00"), on("Dec 9 13:30"))


@pytest.mark.parametrize(
    ("fields", "id", "field"),
    [
        ({"work": 6 * HOUR}, "plan.no_rest", "work"),
        ({"work": 0}, "plan.no_time", "work"),
        ({"second_work": 0}, "plan.no_time", "second_work"),
        ({"name": " "}, "input.no_name", "name"),
        ({"second_name": ""}, "input.no_name", "second_name"),
        ({"parts": {"studs": (7,)}}, "plan.no_such_part", "parts_studs"),
        ({"parts": {"wire": (1,)}}, "plan.not_on_layer", "parts_wire"),
        ({"id": "tape"}, "input.id_taken", "id"),
        ({"activity_id": "frame"}, "plan.split_done", "activity_id"),
        ({"activity_id": "plumb"}, "plan.only_a_task_splits", "activity_id"),
    ],
)
def test_what_cannot_be_split_is_refused(fields: dict[str, Any], id: str, field: str) -> None:
    assert refused(WORLD, split(**fields)) == (id, field)


def test_what_is_under_way_is_not_split() -> None:
    assert refused(begun(WORLD, "Hang board"), split())[0] == "plan.split_under_way"


# -- made one -------------------------------------------------------------------------------------


def test_two_tasks_become_one_with_the_time_the_order_and_the_layers_of_both() -> None:
    world = WORLD.with_effect("Tape", "covers", "Wire").with_task("Paint", after="Tape")
    after = pressed(world, merged(name="Board and tape"))
    one = after.activities["hang-board"]
    assert (one.name, one.work) == ("Board and tape", 6 * HOUR + DAY)
    assert after.activities["tape"].ended == NOW
    assert bounds(after) == {
        ("frame", "plumb", "FS"),
        ("plumb", "hang-board", "FS"),
        ("hang-board", "paint", "FS"),
        ("hang-board", "shelf", "SS"),
    }
    assert doing(after, "hang-board") == {
        ("puts in", "board", ()),
        ("covers", "studs", ()),
        ("covers", "wire", ()),
    }


def test_whichever_is_named_first_the_earlier_keeps_its_row() -> None:
    after = pressed(WORLD, merged("tape", "hang-board", work=DAY))
    assert after.activities["hang-board"].work == DAY
    assert after.activities["tape"].ended is not None


def test_of_two_orders_alike_the_longer_wait_stays() -> None:
    world = WORLD.with_dependency("Plumb", "Tape", lag=300)
    after = pressed(world, merged())
    (kept,) = after.before["hang-board"]
    assert (kept.before_id, kept.lag) == ("plumb", 300)


def test_parts_of_both_that_are_all_become_all() -> None:
    halves = World(pressed(WORLD, split(parts={"studs": (1, 3)})))
    after = pressed(halves, merged("hang-board", "half"))
    assert doing(after, "hang-board") == doing(WORLD.snapshot(), "hang-board")


def test_the_place_of_the_detail_and_the_same_place_named_are_one() -> None:
    world = WORLD.with_changed("Tape", place_id="garden-stair")
    assert pressed(world, merged()).activities["tape"].ended is not None


def test_what_is_said_of_one_is_said_of_both() -> None:
    world = WORLD.with_changed("Tape", wet=True, stuff="compound", note="Paper tape")
    one = pressed(world, merged()).activities["hang-board"]
    assert (one.wet, one.stuff, one.note) == (True, "compound", "Paper tape")


@pytest.mark.parametrize(
    ("world", "id"),
    [
        (WORLD.with_wait("Sets", after="Hang board").with_dependency("Sets", "Tape"),
         "plan.merge_between"),
        (WORLD.with_changed("hang-board>tape", lag=60), "plan.merge_waits"),
        (WORLD.with_dependency("Tape", "Shelf", type="SS"), "plan.merge_middle"),
        (WORLD.with_dependency("Frame", "Hang board", type="FF"), "plan.merge_middle"),
        (WORLD.with_changed("Tape", with_crew_ids=("hobnail-millwork",)), "plan.merge_crews"),
        (WORLD.with_place("Cellar").with_changed("Tape", place_id="cellar"), "plan.merge_differs"),
        (WORLD.with_changed("Hang board", stuff="lime").with_changed("Tape", stuff="gypsum"),
         "plan.merge_differs"),
        (WORLD.with_effect("Tape", "covers", "Board"), "plan.puts_in_and_covers"),
        (begun(WORLD, "Hang board"), "plan.merge_happened"),
        (WORLD.with_booking(CREW, "Tape", on("Dec 9"), on("Dec 9 15:30")), "plan.still_booked"),
        (WORLD.with_dependency("Plumb", "Tape", lag=60, lag_on="work")
         .with_changed("plumb>hang-board", lag=60), "plan.merge_two_waits"),
    ],
)  # fmt: skip
def test_what_cannot_be_one_is_refused(world: World, id: str) -> None:
    assert refused(world, merged())[0] == id


def test_a_check_does_not_go_into_a_task_nor_a_task_into_itself() -> None:
    assert refused(WORLD, merged("hang-board", "plumb"))[0] == "plan.only_tasks_merge"
    assert refused(WORLD, merged("tape", "tape"))[0] == "plan.merge_itself"


def test_a_task_of_another_detail_is_moved_first() -> None:
    world = WORLD.with_detail("Cellar").with_task("Cellar tape", crew=CREW)
    assert refused(world, merged("tape", "cellar-tape"))[0] == "plan.merge_elsewhere"


def test_halves_made_one_again_have_the_dates_promised_for_the_whole() -> None:
    promise = Agreed(id="p", project_id=PROJECT, activity_id="hang-board", round=1,
                     detail_id="garden-stair-rail", start=on("Dec 9"), finish=on("Dec 9 13:30"),
                     by_id="rufus-orme", at=on("Dec 1"))  # fmt: skip
    halves = World(pressed(WORLD.put(promise), split()))
    rows = promised(pressed(halves, merged("hang-board", "half")), "garden-stair-rail")
    assert (rows["hang-board"].start, rows["hang-board"].finish) == (on("Dec 9"), on("Dec 9 13:30"))
