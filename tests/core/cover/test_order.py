"""What covers a layer follows what has to happen to it first, for the same parts."""

import pytest

from server.core.cover import contradicted, implied, reach, undrawn, unseen
from tests.worlds import DAY, World, a_project, on

DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}


def wall() -> World:
    """Studs with a wire within them, and board that hides both."""
    return (
        a_project()
        .with_crew("Ninepail Plaster")
        .with_detail("Stair wall")
        .with_layer("Studs", parts=3)
        .with_layer("Wire", within_id="studs", must_be_seen=True)
        .with_layer("Board")
    )


FRAMED = wall().with_task("Frame", DAY, puts_in="Studs").with_task("Run wire", puts_in="Wire")


def boarded(world: World, **fields: object) -> World:
    return world.with_task("Hang board", puts_in="Board", covers="Studs", **fields)


def pairs(world: World) -> set[tuple[str, str]]:
    return set(undrawn(world.snapshot()))


def test_what_puts_a_layer_in_or_lies_within_it_comes_before_its_cover() -> None:
    assert pairs(boarded(FRAMED)) == {("frame", "hang-board"), ("run-wire", "hang-board")}


def test_what_the_chain_says_is_not_told_again_through_however_many() -> None:
    world = boarded(FRAMED.with_wait("Settle", after=("Frame", "Run wire")), after="Settle")
    assert pairs(world) == set()


def test_beginning_together_is_not_coming_first() -> None:
    world = boarded(FRAMED).with_dependency("Frame", "Hang board", type="SS")
    assert ("frame", "hang-board") in pairs(world)


def test_a_check_comes_before_what_covers_the_layer_it_looks_at() -> None:
    world = FRAMED.with_check("Wire in place", after="Run wire", layers="Wire")
    assert ("wire-in-place", "hang-board") in pairs(boarded(world, after="Frame"))


def test_an_invited_look_stops_nobody() -> None:
    world = FRAMED.with_check("Wire in place", after="Run wire", layers="Wire", witness=True)
    assert "wire-in-place" not in {before for before, _ in pairs(boarded(world))}


def test_work_that_needs_a_layer_open_comes_before_its_cover() -> None:
    world = FRAMED.with_task("Try the circuit").with_effect("Try the circuit", "needs open", "Wire")
    assert ("try-the-circuit", "hang-board") in pairs(boarded(world))


def test_only_the_same_parts_count() -> None:
    world = (
        wall()
        .with_task("Frame bay 1")
        .with_effect("Frame bay 1", "puts in", "Studs", (1,))
        .with_task("Board bay 2")
        .with_effect("Board bay 2", "covers", "Studs", (2,))
        .with_task("Board bay 1")
        .with_effect("Board bay 1", "covers", "Studs", (1,))
    )
    assert pairs(world) == {("frame-bay-1", "board-bay-1")}


@pytest.mark.parametrize("done", ["Frame", "Hang board"])
def test_what_has_happened_has_an_order(done: str) -> None:
    world = boarded(FRAMED).with_changed(done, **DONE)
    assert ("frame", "hang-board") not in pairs(world)


def test_the_opposite_is_contradicted_and_not_undrawn() -> None:
    world = boarded(FRAMED, after="Frame").with_dependency("Hang board", "Run wire")
    assert contradicted(world.snapshot()) == (("run-wire", "hang-board"),)
    assert pairs(world) == set()


def test_what_comes_after_the_layer_was_opened_up_again_is_in_order() -> None:
    world = (
        boarded(FRAMED, after=("Frame", "Run wire"))
        .with_task("Open bay 3", after="Hang board")
        .with_effect("Open bay 3", "opens", "Studs")
        .with_task("New wire", puts_in="Wire", after="Open bay 3")
    )
    assert contradicted(world.snapshot()) == ()
    assert pairs(world) == set()


def test_a_check_after_the_cover_looks_at_what_is_left_to_see_where_another_came_before() -> None:
    world = boarded(
        FRAMED.with_check("Wire in place", after="Run wire", layers="Wire"),
        after=("Frame", "Wire in place"),
    )
    late = world.with_check("Wire tried", after="Hang board", layers="Wire")
    assert contradicted(late.snapshot()) == ()
    alone = boarded(FRAMED, after=("Frame", "Run wire"))
    only = alone.with_check("Wire tried", after="Hang board", layers="Wire")
    assert contradicted(only.snapshot()) == (("wire-tried", "hang-board"),)


def test_a_layer_that_must_be_seen_and_is_covered_without_a_look_is_unseen() -> None:
    covered = boarded(FRAMED).with_effect("Hang board", "covers", "Wire")
    ((layer, cover),) = unseen(covered.snapshot())
    assert (layer.id, cover.id) == ("wire", "hang-board")
    looked = covered.with_check("Wire in place", layers="Wire", witness=True)
    assert unseen(looked.snapshot()) == ()


def test_what_is_not_covered_implies_nothing() -> None:
    assert implied(FRAMED.snapshot()) == ()


def test_reach_tells_what_ends_before_from_what_only_comes_before() -> None:
    world = boarded(FRAMED).with_dependency("Frame", "Run wire", type="SS")
    world = world.with_dependency("Run wire", "Hang board")
    known = reach(world.snapshot())
    assert known.ends_before("run-wire", "hang-board")
    assert not known.ends_before("frame", "hang-board")
    assert known.comes_before("frame", "hang-board")
    assert not known.comes_before("hang-board", "frame")
