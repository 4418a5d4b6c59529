"""The state of a layer and of its parts, and which checks a task hides."""

from typing import Any

import pytest

from server.core.states import checks_hidden_by, hidden_parts, layer_state
from tests.worlds import World, a_project, on

WORLD = (
    a_project()
    .with_detail("Garden stair rail")
    .with_layer("Blocking")
    .with_layer("Bays", parts=3)
    .with_task("Blocking in", puts_in="Blocking")
    .with_task("Fill the bays", puts_in="Bays")
    .with_check("Full", after="Fill the bays", layers="Bays", parts=3)
    .with_task("Hang board", after="Full", covers=("Blocking", "Bays"))
    .with_task("Open the wall", opens="Blocking")
)


def done(day: int) -> dict[str, Any]:
    return {"started": on(f"Dec {day}"), "finished": on(f"Dec {day} 15:30")}


IN = WORLD.with_changed("Blocking in", **done(1)).with_changed("Fill the bays", **done(1))
COVERED = IN.with_changed("Hang board", **done(2))


def state_of(world: World, layer: str = "blocking", part: int | None = None) -> str:
    return layer_state(world.snapshot(), world.snapshot().layers[layer], part)


def hidden(world: World, task: str = "hang-board") -> frozenset[int] | None:
    snapshot = world.snapshot()
    return hidden_parts(snapshot, snapshot.activities[task], snapshot.holds["full-check"])


@pytest.mark.parametrize(
    ("world", "state"),
    [
        (WORLD, "to come"),
        (WORLD.with_changed("Blocking in", started=on("Dec 1")), "going in"),
        (IN, "in the open"),
        (IN.with_changed("Hang board", started=on("Dec 2")), "in the open"),
        (COVERED, "covered"),
        (COVERED.with_changed("Open the wall", **done(3)), "opened up again"),
    ],
)
def test_a_layer_stands_as_the_last_that_was_done_to_it(world: World, state: str) -> None:
    assert state_of(world) == state


def test_a_layer_that_was_opened_up_is_covered_again_by_what_covers_it_after() -> None:
    world = COVERED.with_changed("Open the wall", **done(3)).with_task(
        "Board again", covers="Blocking", **done(4)
    )
    assert state_of(world) == "covered"


def test_work_that_needs_a_layer_open_leaves_it_as_it_was() -> None:
    world = IN.with_task("Wire it", **done(2)).with_effect("Wire it", "needs open", "Blocking")
    assert state_of(world) == "in the open"


def test_a_layer_with_more_to_be_put_in_is_going_in() -> None:
    assert state_of(IN.with_task("More blocking", puts_in="Blocking")) == "going in"


def test_rework_changes_nothing_until_it_starts() -> None:
    world = IN.with_task("Blocking: loose", puts_in="Blocking", rework_of_id="x")
    assert state_of(world) == "in the open"
    begun = world.with_changed("Blocking: loose", started=on("Dec 3"))
    assert state_of(begun) == "going in"
    assert state_of(world.with_changed("Blocking: loose", **done(3))) == "in the open"


def test_work_that_was_ended_under_way_keeps_what_it_left() -> None:
    world = WORLD.with_changed("Blocking in", started=on("Dec 1"), ended=on("Dec 2"))
    assert state_of(world) == "in the open"


def test_parts_stand_each_on_their_own() -> None:
    world = IN.with_changed("Hang board-covers-Bays", parts=(1, 2)).with_changed(
        "Hang board", **done(2)
    )
    assert [state_of(world, "bays", no) for no in (1, 2, 3)] == [
        "covered",
        "covered",
        "in the open",
    ]


def test_a_layer_is_covered_only_when_no_part_of_it_is_in_the_open() -> None:
    world = IN.with_changed("Hang board-covers-Bays", parts=(1, 2)).with_changed(
        "Hang board", **done(2)
    )
    assert state_of(world, "bays") == "in the open"
    assert state_of(COVERED, "bays") == "covered"


def test_a_layer_of_which_a_part_is_in_is_going_in() -> None:
    world = WORLD.with_changed("Fill the bays-puts in-Bays", parts=(1,)).with_changed(
        "Fill the bays", **done(1)
    )
    assert state_of(world, "bays") == "going in"


def test_a_task_hides_the_checks_of_the_layers_it_covers() -> None:
    snapshot = IN.snapshot()
    found = checks_hidden_by(snapshot, snapshot.activities["hang-board"])
    assert [h.id for h in found] == ["full-check"]


def test_it_hides_neither_an_invited_look_nor_a_check_that_comes_after_it() -> None:
    world = IN.with_changed("full-check", witness=True).with_check(
        "Knock", after="Hang board", layers="Bays"
    )
    snapshot = world.snapshot()
    assert checks_hidden_by(snapshot, snapshot.activities["hang-board"]) == ()


def test_what_is_not_ok_and_covered_is_hidden_part_by_part() -> None:
    assert hidden(IN) is None
    assert hidden(IN.with_changed("Hang board-covers-Bays", parts=(2, 3))) == {2, 3}
    released = IN.with_attempt("Full", "released", left_out=(3,))
    assert hidden(released) == {3}
    assert hidden(released.with_changed("Hang board-covers-Bays", parts=(1,))) == frozenset()
    assert hidden(released, "open-the-wall") == frozenset()
    assert hidden(IN.with_attempt("Full", "released")) == frozenset()
