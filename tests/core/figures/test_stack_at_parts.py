"""A stack at each part of the checks that measure it."""

import pytest

from server.core.figures.base import BadFigure
from server.core.figures.stack import Stack, stacked
from server.core.figures.stack_at_parts import NO_CHECK, Source, at_each, worst_of
from tests.core.figures.stacks import part

TREADS = Stack(
    parts=(part(40, 0.25, name="wall to wall"), part(39.75, 0.03125, -1, name="tread")),
    least=0.0625,
    most=0.5,
)
WALLS = Source({1: 40.0, 2: 40.25, 3: None}, "tread")


def gaps(*sources: Source) -> list[tuple[int | None, float]]:
    return [(at.no, at.figure.expected) for at in at_each(TREADS, sources)]


def test_without_a_check_it_is_the_stack_itself() -> None:
    (only,) = at_each(TREADS, (NO_CHECK, NO_CHECK))
    assert (only.no, only.figure) == (None, stacked(TREADS))


def test_each_part_has_what_was_measured_there_and_the_drawing_where_nothing_was() -> None:
    assert gaps(WALLS, NO_CHECK) == [(1, 0.25), (2, 0.5), (3, 0.25)]


def test_a_check_of_the_whole_counts_at_each_part() -> None:
    assert gaps(WALLS, Source({None: 39.5})) == [(1, 0.5), (2, 0.75), (3, 0.5)]
    assert gaps(Source({None: 40.125}), NO_CHECK) == [(None, 0.375)]


def test_two_checks_meet_by_the_number_of_the_part() -> None:
    made = Source({2: 40.0, 4: 39.5}, "tread")
    assert gaps(WALLS, made) == [(1, 0.25), (2, 0.25), (3, 0.25), (4, 0.5)]


def test_checks_that_count_different_parts_are_refused() -> None:
    with pytest.raises(BadFigure) as why:
        at_each(TREADS, (WALLS, Source({1: 39.5}, "stud")))
    assert (why.value.id, why.value.field) == ("stack.other_parts", "by-2")


def test_the_worst_is_farthest_outside_or_has_the_least_room_left() -> None:
    far = Source({1: 40.25, 2: 39.5, 3: 40.75}, "tread")
    assert worst_of(at_each(TREADS, (far, NO_CHECK))).no == 3
    near = Source({1: 40.0, 2: 39.875, 3: 40.125}, "tread")
    assert worst_of(at_each(TREADS, (near, Source({1: 39.75, 2: 39.8125}, "tread")))).no == 2
    alike = Source({1: 40.0, 2: 40.0}, "tread")
    assert worst_of(at_each(TREADS, (alike, NO_CHECK))).no == 1
