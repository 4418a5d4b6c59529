"""A figure kept with a detail gives a check its numbers, a wait nothing until it is agreed to."""

from dataclasses import replace
from fractions import Fraction

import pytest

from server.core.changes.holds import OpenAgain
from server.core.changes.kept_figures import (
    EndFigure,
    KeepFigure,
    StackFacts,
    StackPartFacts,
    TieFigure,
    TieToWait,
    UntieFigure,
)
from server.core.changes.plan import AskFacts
from server.core.rights import NotTheirs
from server.core.world import Attempt, KeptFigure, Measurement, Snapshot
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, PROJECT, World, a_project

FIGURE = KeptFigure(
    id="rail-figure",
    project_id=PROJECT,
    detail_id="rail",
    figure="standoffs",
    name="Rail",
    inputs="rise=7+1%2F2",
)
WORLD = (
    a_project()
    .with_crew("Ore Street Metal")
    .with_detail("Bench")
    .with_check("Level")
    .with_detail("Rail")
    .with_task("Set stand-offs", crew="Ore Street Metal")
    .with_check("Height", after="Set stand-offs", marks="Ore Street Metal", datum="floor")
    .with_ask("Height", low=30, high=40)
    .with_wait("Coat dries", 3 * CLOCK_DAY, after="Height")
    .put(FIGURE)
)
KEEP = KeepFigure(
    id="new-figure", detail_id="rail", figure="standoffs", name="Rail", inputs="rise=7"
)


def asks(*nominals: int) -> tuple[AskFacts, ...]:
    """A height for each part."""
    return tuple(
        AskFacts(label="Height", part=part, nominal=Fraction(n), low=Fraction(n), high=Fraction(n))
        for part, n in enumerate(nominals, 1)
    )


TIE = TieFigure(
    figure_id="rail-figure",
    hold_id="height-check",
    inputs=FIGURE.inputs,
    asks=asks(35, 36, 37),
    datum="finished tread",
)


def tied() -> World:
    return replace(WORLD, made=pressed(WORLD, TIE))


def with_look(world: World, state: str) -> World:
    """The check was looked at with its numbers, and this came of it."""
    look = Attempt(
        id="look", project_id=PROJECT, hold_id="height-check", no=1, state=state,
        marked_by_id="rufus-orme", marked_at=NOW,
    )  # fmt: skip
    first = world.snapshot().asks_of["height-check"][0]
    number = Measurement(
        id="number", project_id=PROJECT, attempt_id="look", ask_id=first.id, typed="35",
        value=Fraction(35),
    )  # fmt: skip
    done = replace(world.snapshot().activities["height"], finished=NOW, started=NOW)
    return world.put(look, number, *([done] if state == "released" else []))


def nominals(snapshot: Snapshot) -> list[Fraction | None]:
    return [ask.nominal for ask in snapshot.asks_of["height-check"]]


def test_a_figure_is_kept_with_its_detail_and_counts_its_versions() -> None:
    once = pressed(WORLD, KEEP)
    assert once.kept_figures["new-figure"].inputs == "rise=7"
    again = pressed(replace(WORLD, made=once), replace(KEEP, inputs="rise=8"))
    assert again.kept_figures["new-figure"].version == 2


@pytest.mark.parametrize(
    ("changed", "refusal"),
    [
        ({"name": " "}, ("input.no_name", "name")),
        ({"inputs": "x" * 4097}, ("kept_figures.too_large", "inputs")),
        ({"detail_id": "shed"}, ("change.gone", "detail_id")),
        ({"id": "rail-figure", "detail_id": "bench"}, ("input.id_taken", "id")),
    ],
)
def test_what_is_no_figure_of_the_detail_is_refused(
    changed: dict[str, str], refusal: tuple[str, str]
) -> None:
    assert refused(WORLD, replace(KEEP, **changed)) == refusal


def test_a_detail_keeps_only_so_many_figures() -> None:
    full = WORLD.put(*(replace(FIGURE, id=f"figure-{n}") for n in range(40)))
    assert refused(full, KEEP) == ("kept_figures.too_many", None)


def test_only_the_super_keeps_a_figure() -> None:
    with pytest.raises(NotTheirs):
        pressed(WORLD, KEEP, "Ore Street Metal lead")


def test_a_check_takes_numbers_datum_and_parts_of_its_figure() -> None:
    after = pressed(WORLD, TIE)
    hold = after.holds["height-check"]
    assert nominals(after) == [35, 36, 37]
    assert (hold.parts, hold.datum) == (3, "finished tread")
    assert after.kept_figures["rail-figure"].taken == FIGURE.inputs


def test_where_the_numbers_before_came_from_is_said_no_more() -> None:
    sourced = WORLD.with_changed("height-check", source="36 in: from memory")
    assert pressed(sourced, TIE).holds["height-check"].source == ""


def test_other_inputs_leave_the_numbers_of_the_check() -> None:
    changed = replace(KEEP, id="rail-figure", inputs="rise=8")
    after = pressed(tied(), changed)
    figure = after.kept_figures["rail-figure"]
    assert nominals(after) == [35, 36, 37]
    assert figure.taken != figure.inputs


def test_numbers_shown_for_other_inputs_are_not_taken() -> None:
    assert refused(WORLD, replace(TIE, inputs="rise=9")) == ("change.changed_since", None)


def test_only_a_check_of_the_same_detail_takes_them() -> None:
    other = replace(TIE, hold_id="level-check")
    assert refused(WORLD, other) == ("kept_figures.not_of_detail", "hold_id")


def test_a_check_has_its_numbers_from_one_figure() -> None:
    world = tied().put(replace(FIGURE, id="second"))
    second = replace(TIE, figure_id="second")
    assert refused(world, second) == ("kept_figures.another", "hold_id")


def test_numbers_that_it_was_released_with_are_not_changed_until_it_is_opened_again() -> None:
    released = with_look(tied(), "released")
    other = replace(TIE, asks=asks(36, 36, 37))
    assert refused(released, other) == ("kept_figures.released", "again")
    opened = pressed(released, OpenAgain(hold_id="height-check", reason="Looked at again"))
    assert nominals(pressed(replace(WORLD, made=opened), other)) == [36, 36, 37]


def test_numbers_that_wait_for_a_decision_are_not_changed() -> None:
    assert refused(with_look(tied(), "marked"), TIE) == ("kept_figures.marked", "hold_id")


def test_a_number_that_somebody_has_measured_does_not_fall_away() -> None:
    measured = with_look(tied(), "rejected")
    without = replace(TIE, asks=asks(35, 36, 37)[1:])
    assert refused(measured, without) == ("plan.ask_has_numbers", "hold_id")


def test_a_wait_that_is_tied_takes_as_long_as_before() -> None:
    after = pressed(WORLD, TieToWait(figure_id="rail-figure", activity_id="coat-dries"))
    assert after.kept_figures["rail-figure"].activity_id == "coat-dries"
    assert after.activities["coat-dries"].work == 3 * CLOCK_DAY


def test_only_a_wait_is_planned_by_a_figure() -> None:
    task = TieToWait(figure_id="rail-figure", activity_id="set-stand-offs")
    assert refused(WORLD, task) == ("kept_figures.not_of_detail", "activity_id")


@pytest.mark.parametrize("command", [UntieFigure, EndFigure])
def test_a_check_that_is_let_go_keeps_its_numbers(command: type[UntieFigure | EndFigure]) -> None:
    after = pressed(tied(), command(figure_id="rail-figure"))
    assert nominals(after) == [35, 36, 37]
    assert after.kept_figures["rail-figure"].hold_id is None


def test_a_figure_that_is_taken_off_is_tied_to_nothing() -> None:
    ended = replace(WORLD, made=pressed(WORLD, EndFigure(figure_id="rail-figure")))
    assert refused(ended, TIE) == ("change.gone", "figure_id")


PART = StackPartFacts(
    name="Rail", counts=Fraction(1), nominal=Fraction(36), plus=Fraction(1, 8),
    minus=Fraction(1, 8), hold_id="height-check", label="Height",
)  # fmt: skip
WALL = replace(PART, name="Wall", counts=Fraction(-1), hold_id=None, label="")


def keep_stack(*parts: StackPartFacts, **wanted: Fraction) -> KeepFigure:
    stack = StackFacts(parts=parts, **wanted)
    return replace(KEEP, figure="stack", stack=stack)


def test_a_stack_is_kept_with_its_parts_and_the_check_that_measures_one() -> None:
    after = pressed(WORLD, keep_stack(PART, WALL, least=Fraction(0), most=Fraction(1)))
    rows = after.stack_parts_of["new-figure"]
    assert [(row.name, row.hold_id, row.label) for row in rows] == [
        ("Rail", "height-check", "Height"), ("Wall", None, ""),
    ]  # fmt: skip
    assert after.kept_figures["new-figure"].most == 1


def test_parts_keep_their_rows_and_those_taken_away_go() -> None:
    first = pressed(WORLD, keep_stack(PART, WALL))
    other = keep_stack(replace(PART, nominal=Fraction(35)))
    again = pressed(replace(WORLD, made=first), other)
    (row,) = again.stack_parts_of["new-figure"]
    assert row.id == first.stack_parts_of["new-figure"][0].id
    assert (row.nominal, row.version) == (35, 2)


def test_another_figure_has_no_parts() -> None:
    first = pressed(WORLD, keep_stack(PART))
    assert not pressed(replace(WORLD, made=first), replace(KEEP, figure="stack")).stack_parts


@pytest.mark.parametrize(
    ("parts", "why"),
    [
        ([replace(PART, hold_id="level-check")], ("kept_figures.not_of_detail", "by-1")),
        ([WALL, replace(PART, hold_id="nowhere")], ("kept_figures.not_of_detail", "by-2")),
        ([replace(PART, measured=Fraction(36))], ("stack.measured_twice", "measured-1")),
        ([replace(PART, plus=Fraction(-1))], ("stack.negative", "plus-1")),
        ([replace(PART, name=" ")], ("input.no_name", "name-1")),
        ([WALL] * 21, ("kept_figures.too_many_parts", None)),
    ],
)
def test_a_stack_that_makes_no_sense_is_refused(
    parts: list[StackPartFacts], why: tuple[str, str | None]
) -> None:
    assert refused(WORLD, keep_stack(*parts)) == why


def test_a_range_the_wrong_way_round_is_refused() -> None:
    wrong = keep_stack(PART, least=Fraction(2), most=Fraction(1))
    assert refused(WORLD, wrong) == ("stack.reversed", "least")
