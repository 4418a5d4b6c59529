"""A kept stack takes what released checks have measured, and only that."""

from dataclasses import replace
from fractions import Fraction

import pytest

from server.core.stacks import lengths_asked, source_of, stack_of
from server.core.world import KeptFigure, Measurement, StackPart
from tests.worlds import PROJECT, World, a_project

FIGURE = KeptFigure(
    id="gap", project_id=PROJECT, detail_id="main-stair", figure="stack", name="Tread gap",
    inputs="parts=2", least=Fraction(1, 16), most=Fraction(1, 2),
)  # fmt: skip
WALLS = StackPart(
    id="gapa", project_id=PROJECT, figure_id="gap", order=0, name="Wall to wall",
    counts=Fraction(1), nominal=Fraction(40), plus=Fraction(1, 8), minus=Fraction(1, 8),
    hold_id="walls-check", label="Wall to wall",
)  # fmt: skip
TREAD = replace(
    WALLS, id="gapb", order=1, name="Tread", counts=Fraction(-1), nominal=Fraction("39.75"),
    plus=Fraction(1, 32), minus=Fraction(1, 32), hold_id=None, label="",
)  # fmt: skip
WORLD = (
    a_project()
    .with_detail("Main stair")
    .with_check("Walls", parts=2, part_name="tread")
    .with_ask("Wall to wall", part=1)
    .with_ask("Wall to wall", part=2)
    .with_ask("Flat", unit="yes")
    .with_ask("Air", unit="%")
    .put(FIGURE, WALLS, TREAD)
)


def looked_at(world: World, state: str, *values: str, **fields: object) -> World:
    """The walls were marked with these numbers, part by part, and this came of it."""
    world = world.with_attempt("Walls", state=state, **fields)
    attempt = world.snapshot().attempts_of["walls-check"][-1]
    asks = world.snapshot().asks_of["walls-check"]
    return world.put(
        *(
            Measurement(
                id=f"{attempt.id}-{ask.id}", project_id=PROJECT, attempt_id=attempt.id,
                ask_id=ask.id, typed=value, value=Fraction(value),
            )
            for ask, value in zip(asks, values, strict=False)
        )
    )  # fmt: skip


def gaps(world: World) -> list[tuple[int | None, float]]:
    snapshot = world.snapshot()
    figure = snapshot.kept_figures["gap"]
    return [(at.no, at.figure.expected) for at in stack_of(snapshot, figure)]


BY_DRAWING = [(1, 0.25), (2, 0.25)]


def test_before_a_release_it_stands_by_the_drawing() -> None:
    assert gaps(WORLD) == BY_DRAWING


@pytest.mark.parametrize("state", ["marked", "rejected", "look again", "opened again"])
def test_numbers_that_are_not_released_do_not_count(state: str) -> None:
    assert gaps(looked_at(WORLD, state, "40.125", "40.25")) == BY_DRAWING


def test_released_numbers_stand_at_their_parts() -> None:
    assert gaps(looked_at(WORLD, "released", "40.125", "40.25")) == [(1, 0.375), (2, 0.5)]


def test_a_part_that_was_left_out_stands_by_the_drawing_until_it_is_released_too() -> None:
    first = looked_at(WORLD, "released", "40.125", "41", left_out=(2,))
    assert gaps(first) == [(1, 0.375), (2, 0.25)]
    again = looked_at(first, "released", "40.125", "40.0625", parts=(2,))
    assert gaps(again) == [(1, 0.375), (2, 0.3125)]


def test_a_check_that_is_opened_again_has_measured_nothing() -> None:
    assert gaps(looked_at(WORLD, "released", "40.125", "40.25").with_attempt(
        "Walls", state="opened again")) == BY_DRAWING  # fmt: skip


def test_millimeters_are_as_long() -> None:
    in_mm = WORLD.with_changed("walls-1", unit="mm").with_changed("walls-2", unit="mm")
    asks = in_mm.snapshot().asks_of["walls-check"]
    assert [ask.unit for ask in asks[:2]] == ["mm", "mm"]
    assert gaps(looked_at(in_mm, "released", "1016", "1028.7")) == [(1, 0.25), (2, 0.75)]


def test_what_a_check_asks_no_more_is_as_drawn() -> None:
    other = WORLD.put(replace(WALLS, label="Clear width"))
    assert gaps(other) == [(None, 0.25)]


def test_the_lengths_of_a_detail_are_offered_once_and_no_questions() -> None:
    assert offered(WORLD) == [("walls-check", "Wall to wall")]


def offered(world: World) -> list[tuple[str, str]]:
    return [(hold.id, ask.label) for hold, ask in lengths_asked(world.snapshot(), "main-stair")]


def test_what_is_to_be_at_most_so_much_says_no_length() -> None:
    most = WORLD.with_ask("Most off the string", low=0, high="1/16").with_ask("Lap", high=2)
    assert offered(most) == offered(WORLD)
    least = WORLD.with_ask("Clear behind the rail", low="1 1/2")
    assert ("walls-check", "Clear behind the rail") in offered(least)


@pytest.mark.parametrize(
    "should", [{"nominal": Fraction(0)}, {"low": Fraction(-1, 4), "high": Fraction(1, 4)}]
)
def test_how_far_a_part_is_off_is_added_to_the_drawing(should: dict[str, Fraction]) -> None:
    off = WORLD.with_changed("walls-1", **should).with_changed("walls-2", **should)
    assert gaps(looked_at(off, "released", "1/8", "-1/16")) == [(1, 0.375), (2, 0.1875)]


def test_a_check_that_is_not_there_has_measured_nothing() -> None:
    assert source_of(WORLD.snapshot(), "no-such-check", "Height").found == {}


def test_a_figure_without_parts_is_no_stack() -> None:
    assert stack_of(WORLD.snapshot(), replace(FIGURE, id="rail")) == ()
