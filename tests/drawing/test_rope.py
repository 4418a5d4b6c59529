from itertools import pairwise
from typing import get_args
from xml.etree import ElementTree

import pytest

from server.drawing.knots import RopeKind, RopeState, draw_knot
from server.drawing.rope import RopeRow, rope_marks

STRAND = "rp-edge"


def pieces(*rows: RopeRow) -> list[ElementTree.Element]:
    return [ElementTree.fromstring(piece) for piece in rope_marks(rows)]


def edges(piece: ElementTree.Element) -> list[ElementTree.Element]:
    return [line for line in piece.iter("line") if line.get("class") == STRAND]


def bends(piece: ElementTree.Element) -> list[ElementTree.Element]:
    return [path for path in piece.iter("path") if path.get("class") == STRAND]


def test_two_strands_where_it_sets_the_finish_and_one_otherwise() -> None:
    one, _ = pieces(RopeRow("task", "ready"), RopeRow("task", "ready"))
    two, _ = pieces(RopeRow("task", "ready", True), RopeRow("task", "ready", True))
    assert (len(edges(one)), len(edges(two))) == (2, 4)


def test_a_strand_runs_the_whole_height_of_a_row_between_others() -> None:
    middle = pieces(*[RopeRow("task", "ready")] * 3)[1]
    assert {(line.get("y1"), line.get("y2")) for line in edges(middle)} == {("0", "100%")}
    assert middle.get("height") == "100%"
    assert middle.get("viewBox") is None


def test_the_strands_of_one_row_meet_those_of_the_next() -> None:
    rows = [RopeRow("task", "ready", sets) for sets in (False, True, True, False, True)]
    drawn = pieces(*rows)
    for upper, lower in pairwise(drawn):
        leaving = {line.get("x1") for line in edges(upper) if line.get("y2") == "100%"}
        arriving = {line.get("x1") for line in edges(lower) if line.get("y1") == "0"}
        arriving |= {(bend.get("d") or "")[1:].split()[0] for bend in bends(lower)}
        assert leaving == arriving


def test_the_rope_begins_and_ends_at_a_mark() -> None:
    first, last = pieces(RopeRow("task", "done"), RopeRow("task", "waiting"))
    assert {line.get("y1") for line in edges(first)} == {"25"}
    assert {line.get("y2") for line in edges(last)} == {"25"}


def test_a_chain_of_one_and_of_none_can_be_drawn() -> None:
    assert len(pieces(RopeRow("decision", "next"))) == 1
    assert rope_marks([]) == ()


def test_each_kind_has_a_mark_of_its_own() -> None:
    for state in ("waiting", "done"):
        assert len({draw_knot(kind, state, 3) for kind in get_args(RopeKind)}) == 5  # type: ignore[arg-type]


def test_what_became_of_a_check_shows_in_its_shape() -> None:
    states: tuple[RopeState, ...] = ("ready", "marked", "again", "rejected")
    assert len({draw_knot("hold", state, 3) for state in states}) == 4


@pytest.mark.parametrize("kind", get_args(RopeKind))
@pytest.mark.parametrize("state", get_args(RopeState))
def test_every_kind_can_be_drawn_in_every_state(kind: RopeKind, state: RopeState) -> None:
    ElementTree.fromstring(rope_marks([RopeRow(kind, state, True)])[0])
