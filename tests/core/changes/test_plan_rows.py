"""Rows listed elsewhere, copied, moved to another detail: what goes along and what does not."""

from dataclasses import replace

from server.core.changes import change
from server.core.changes.plan_rows import CopyActivities, MoveActivities, MoveActivity
from server.core.refusals import Message
from server.core.world import Activity, Agreed, Snapshot
from server.core.world.network import forecast
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import HOUR, PROJECT, World, a_project, actor, on

RAIL, STAIR = "garden-stair-rail", "cellar-stair-rail"
WORLD = (
    a_project()
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_place("Garden stair")
    .with_place("Cellar stair")
    .with_detail("Cellar stair rail", place_id="cellar-stair")
    .with_layer("Cellar studs")
    .with_changed("Cellar studs", name="Studs", parts=3)
    .with_layer("Cellar board")
    .with_changed("Cellar board", name="Board")
    .with_task("Cellar frame", puts_in="Cellar studs")
    .with_detail("Garden stair rail", place_id="garden-stair")
    .with_layer("Studs", parts=6)
    .with_layer("Rods")
    .with_layer("Board", material="board")
    .with_task("Frame", puts_in="Studs", place_id="garden-stair")
    .with_check("Plumb", after="Frame", layers=("Studs", "Rods"), parts=6, notice=60)
    .with_ask("Out of plumb", high="1/8")
    .with_task("Hang board", 6 * HOUR, crew="Ninepail Plaster", after="Plumb", puts_in="Board",
               covers=("Studs", "Rods"), place_id="garden-stair", not_before=on("Dec 8"))
    .with_task("Tape", crew="Ninepail Plaster", after="Hang board", place_id="garden-stair")
)  # fmt: skip


def listed(snapshot: Snapshot, detail: str = RAIL) -> list[str]:
    return [a.name for a in snapshot.chain_of(detail)]


def dates(snapshot: Snapshot) -> dict[str, tuple[object, object]]:
    schedule = forecast(snapshot, NOW)
    return {a.id: (schedule[a.id].early_start, schedule[a.id].early_finish) for a in snapshot.chain}


def said(world: World, command: CopyActivities | MoveActivities) -> Message:
    before = world.snapshot()
    return change(before, actor(before), command, NOW).said


def doing(snapshot: Snapshot, id: str) -> set[tuple[str, str, tuple[int, ...]]]:
    return {(e.verb, e.layer_id, e.parts) for e in snapshot.effects_of.get(id, ())}


def named(snapshot: Snapshot, name: str) -> Activity:
    (found,) = (a for a in snapshot.chain if a.name == name)
    return found


# -- listed elsewhere -----------------------------------------------------------------------------


def test_a_row_is_listed_behind_another_and_no_date_changes() -> None:
    after = pressed(WORLD, MoveActivity(activity_id="tape", behind_id="frame"))
    assert listed(after) == ["Frame", "Tape", "Plumb", "Hang board"]
    assert after.dependencies == WORLD.snapshot().dependencies
    assert dates(after) == dates(WORLD.snapshot())


def test_a_row_is_listed_at_the_top() -> None:
    after = pressed(WORLD, MoveActivity(activity_id="hang-board", behind_id=None))
    assert listed(after) == ["Hang board", "Frame", "Plumb", "Tape"]


def test_a_row_that_is_there_already_stays_as_it_is() -> None:
    after = pressed(WORLD, MoveActivity(activity_id="plumb", behind_id="frame"))
    assert after == WORLD.snapshot()


def test_a_row_is_not_listed_behind_one_of_another_detail_or_itself() -> None:
    for behind in ("cellar-frame", "tape", "nothing"):
        command = MoveActivity(activity_id="tape", behind_id=behind)
        assert refused(WORLD, command) == ("change.gone", "behind_id")


# -- copied ---------------------------------------------------------------------------------------


def copied(*ids: str, to: str = RAIL, behind: str | None = None) -> CopyActivities:
    return CopyActivities(id="c", activity_ids=ids, to_detail_id=to, behind_id=behind)


def test_copies_stand_behind_their_originals_under_the_next_number() -> None:
    after = pressed(WORLD, copied("plumb", "hang-board"))
    assert listed(after) == ["Frame", "Plumb", "Hang board", "Plumb 2", "Hang board 2", "Tape"]


def test_a_copy_has_the_check_and_what_it_asks_and_does_what_its_original_does() -> None:
    after = pressed(WORLD, copied("plumb", "hang-board"))
    check = after.hold_of[named(after, "Plumb 2").id]
    assert (check.layer_ids, check.parts, check.called) == (("studs", "rods"), 6, None)
    assert [ask.label for ask in after.asks_of[check.id]] == ["Out of plumb"]
    assert doing(after, named(after, "Hang board 2").id) == doing(after, "hang-board")


def test_among_copies_the_order_is_copied_and_each_comes_after_what_its_original_does() -> None:
    after = pressed(WORLD, copied("plumb", "hang-board"))
    plumb, board = named(after, "Plumb 2"), named(after, "Hang board 2")
    assert [d.before_id for d in after.before[board.id]] == [plumb.id]
    assert [d.before_id for d in after.before[plumb.id]] == ["frame"]
    assert board.id not in after.after


def test_nothing_that_happened_is_copied_nor_the_day_it_was_put_off_to() -> None:
    world = (
        WORLD.with_changed("Frame", started=on("Dec 1"), finished=on("Dec 2"))
        .with_attempt("Plumb", "released")
        .with_changed("Plumb-check", called=on("Dec 2"))
        .with_changed("Plumb", finished=on("Dec 2 12:00"))
    )
    after = pressed(world, copied("frame", "plumb", "hang-board"))
    frame, plumb = named(after, "Frame 2"), named(after, "Plumb 2")
    assert (frame.started, frame.finished, plumb.finished) == (None, None, None)
    assert after.hold_of[plumb.id].id not in after.attempts_of
    assert after.hold_of[plumb.id].called is None
    assert named(after, "Hang board 2").not_before is None


def test_the_answer_of_a_decision_is_not_copied_and_copied_work_matches_the_copied_sample() -> None:
    world = WORLD.with_decision("Sheen", answer="Flat", finished=on("Dec 2")).with_changed(
        "Tape", sample_id="sheen"
    )
    after = pressed(world, copied("sheen", "tape"))
    sheen = named(after, "Sheen 2")
    assert (sheen.answer, sheen.finished) == ("", None)
    assert named(after, "Tape 2").sample_id == sheen.id


def test_copying_changes_no_date_of_what_was_there() -> None:
    world = WORLD.with_changed("frame>plumb", most=2 * HOUR).with_changed(
        "Plumb-check", called=on("Dec 2")
    )
    before, after = dates(world.snapshot()), dates(pressed(world, copied("plumb", "hang-board")))
    assert {id: after[id] for id in before} == before


def test_in_another_detail_layers_are_found_by_their_names_and_the_rest_is_said() -> None:
    command = copied("frame", "plumb", "hang-board", to=STAIR)
    after = pressed(WORLD, command)
    assert listed(after, STAIR) == ["Cellar frame", "Frame", "Plumb", "Hang board"]
    board = next(a for a in after.chain_of(STAIR) if a.name == "Hang board")
    assert doing(after, board.id) == {
        ("puts in", "cellar-board", ()),
        ("covers", "cellar-studs", ()),
    }
    assert board.place_id == "cellar-stair"
    check = after.hold_of[next(a.id for a in after.chain_of(STAIR) if a.name == "Plumb")]
    assert check.layer_ids == ("cellar-studs",)
    assert said(WORLD, command).values["layers"] == ("Rods",)


def test_in_another_detail_a_copy_comes_only_after_what_is_copied_with_it() -> None:
    after = pressed(WORLD, copied("plumb", to=STAIR))
    plumb = next(a for a in after.chain_of(STAIR) if a.name == "Plumb")
    assert plumb.id not in after.before


def test_a_side_of_the_same_name_decides_between_layers_of_the_same_name() -> None:
    side = f"{STAIR}-landing-side"
    studs = WORLD.snapshot().layers["cellar-studs"]
    world = replace(WORLD, detail=STAIR).with_side("Landing side")
    world = world.put(replace(studs, id="other-studs", side_id=side))
    after = pressed(world, copied("frame", to=STAIR))
    frame = next(a for a in after.chain_of(STAIR) if a.name == "Frame")
    assert doing(after, frame.id) == {("puts in", "cellar-studs", ())}


def test_parts_that_the_other_layer_has_not_are_left_out_and_said() -> None:
    effect = next(e for e in WORLD.snapshot().effects_of["frame"])
    world = WORLD.put(replace(effect, parts=(2, 3, 4)))
    command = copied("frame", to=STAIR)
    after = pressed(world, command)
    frame = next(a for a in after.chain_of(STAIR) if a.name == "Frame")
    assert doing(after, frame.id) == {("puts in", "cellar-studs", (2, 3))}
    assert said(world, command).values["layers"] == ("Studs",)


def test_a_crew_that_comes_no_more_is_left_open_in_the_copy() -> None:
    world = WORLD.with_changed("Ninepail Plaster", ended=on("Dec 2"))
    assert named(pressed(world, copied("tape")), "Tape 2").crew_id is None


def test_nothing_chosen_and_nothing_there_are_refused() -> None:
    assert refused(WORLD, copied()) == ("plan.which_rows", "activity_ids")
    assert refused(WORLD, copied("nothing")) == ("change.gone", "activity_ids")
    assert refused(WORLD, copied("tape", to="nothing")) == ("change.gone", "to_detail_id")
    assert refused(WORLD, copied("tape", behind="cellar-frame")) == ("change.gone", "behind_id")


# -- moved to another detail ----------------------------------------------------------------------


def moved(*ids: str, to: str = STAIR, behind: str | None = None) -> MoveActivities:
    return MoveActivities(activity_ids=ids, to_detail_id=to, behind_id=behind)


def test_rows_move_to_another_detail_with_their_order_of_work() -> None:
    after = pressed(WORLD, moved("hang-board", "tape", behind="cellar-frame"))
    assert listed(after) == ["Frame", "Plumb"]
    assert listed(after, STAIR) == ["Cellar frame", "Hang board", "Tape"]
    assert after.dependencies == WORLD.snapshot().dependencies
    assert dates(after) == dates(WORLD.snapshot())


def test_what_moved_rows_do_to_layers_goes_over_by_name_and_the_rest_is_said() -> None:
    command = moved("hang-board")
    after = pressed(WORLD, command)
    assert doing(after, "hang-board") == {
        ("puts in", "cellar-board", ()),
        ("covers", "cellar-studs", ()),
    }
    assert said(WORLD, command).values["layers"] == ("Rods",)


def test_details_hang_together_by_a_row_that_moved() -> None:
    before = WORLD.snapshot()
    assert STAIR not in before.hanging_together[RAIL]
    after = pressed(WORLD, moved("hang-board"))
    assert STAIR in after.hanging_together[RAIL]


def test_what_has_happened_stays_in_its_detail() -> None:
    for world in (
        WORLD.with_changed("Hang board", started=on("Dec 3")),
        WORLD.with_changed("Hang board", ordered=on("Dec 2")),
    ):
        assert refused(world, moved("hang-board")) == ("plan.moved_too_late", "activity_ids")
    looked_at = WORLD.with_attempt("Plumb")
    assert refused(looked_at, moved("plumb")) == ("plan.moved_too_late", "activity_ids")


def test_what_a_crew_is_asked_for_is_not_moved_under_it() -> None:
    world = WORLD.with_booking("Ninepail Plaster", "Tape", on("Dec 9"), on("Dec 9 15:30"))
    assert refused(world, moved("tape"))[0] == "plan.still_booked"


def test_a_promise_stays_with_the_detail_that_was_promised() -> None:
    promise = Agreed(id="p", project_id=PROJECT, activity_id="tape", detail_id=RAIL, round=1,
                     start=on("Dec 9"), finish=on("Dec 10"), by_id="rufus-orme",
                     at=on("Dec 1"))  # fmt: skip
    after = pressed(WORLD.put(promise), moved("tape"))
    assert after.agreed == {"p": promise}


def test_within_its_own_detail_started_work_may_be_listed_elsewhere_too() -> None:
    world = WORLD.with_changed("Frame", started=on("Dec 2"))
    after = pressed(world, moved("frame", "plumb", to=RAIL, behind="tape"))
    assert listed(after) == ["Hang board", "Tape", "Frame", "Plumb"]
    assert doing(after, "frame") == doing(world.snapshot(), "frame")


def test_many_rows_behind_one_make_room_for_themselves() -> None:
    snapshot = WORLD.snapshot()
    close = [replace(a, order=n) for n, a in enumerate(snapshot.chain_of(RAIL))]
    after = pressed(WORLD.put(*close), copied("frame", "plumb", "tape", behind="frame"))
    assert listed(after)[:5] == ["Frame", "Frame 2", "Plumb 2", "Tape 2", "Plumb"]
    assert len({a.order for a in after.chain_of(RAIL)}) == 7
