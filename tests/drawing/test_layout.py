from itertools import pairwise

import pytest

from server.drawing.buildup import arranged
from server.drawing.layout import label_height
from server.drawing.text import width_of
from tests.drawing.sides import a_layer, a_side, fourteen_long_layers


def test_the_bearing_side_is_at_the_foot_and_the_room_side_at_the_top() -> None:
    rows = arranged(a_side(a_layer("Studs"), a_layer("Board"), a_layer("Plaster"))).rows
    assert [row.layer.name for row in sorted(rows, key=lambda row: row.box.y)] == [
        "Plaster",
        "Board",
        "Studs",
    ]


def test_every_label_fits_in_the_height_of_its_own_band() -> None:
    for row in arranged(fourteen_long_layers()).rows:
        assert label_height(row.label) <= row.band.h


def test_no_two_bands_overlap() -> None:
    bands = sorted((row.band for row in arranged(fourteen_long_layers()).rows), key=lambda b: b.y)
    assert len(bands) == 14
    assert all(upper.bottom <= lower.y + 1e-9 for upper, lower in pairwise(bands))


def test_no_line_of_a_label_runs_past_the_edge() -> None:
    plan = arranged(fourteen_long_layers())
    left = plan.measures.label_left
    assert left is not None
    for row in plan.rows:
        for line in row.label:
            assert left + width_of(line.text, line.size, bold=line.bold) <= plan.measures.width


def test_no_word_of_a_long_name_is_lost() -> None:
    plan = arranged(fourteen_long_layers())
    layer = fourteen_long_layers().layers[0]
    row = next(row for row in plan.rows if row.layer.id == "l0")
    words = " ".join(f"{line.text} {line.tail}".strip() for line in row.label)
    assert words == f"{layer.name} {layer.thickness_text} {layer.who_text}"


def test_what_lies_within_a_layer_is_drawn_inside_it() -> None:
    side = a_side(a_layer("Studs"), a_layer("Batts", within="Studs"), a_layer("Board"))
    boxes = {row.layer.name: row.box for row in arranged(side).rows}
    host, inside = boxes["Studs"], boxes["Batts"]
    assert host.x < inside.x
    assert inside.right < host.right
    assert host.y <= inside.y
    assert inside.bottom < host.bottom
    assert boxes["Board"].bottom <= inside.y


def test_what_lies_within_something_within_is_drawn_inside_both() -> None:
    side = a_side(
        a_layer("Studs"), a_layer("Batts", within="Studs"), a_layer("Wire", within="Batts")
    )
    rows = {row.layer.name: row for row in arranged(side).rows}
    assert [rows[name].depth for name in ("Studs", "Batts", "Wire")] == [0, 1, 2]


def test_a_layer_within_one_that_is_not_drawn_stands_on_its_own() -> None:
    (row,) = arranged(a_side(a_layer("Batts", within="gone"))).rows
    assert row.depth == 0


def test_layers_that_lie_within_each_other_are_still_both_drawn() -> None:
    side = a_side(a_layer("One", within="Two"), a_layer("Two", within="One"), a_layer("Three"))
    assert {row.layer.name for row in arranged(side).rows} == {"One", "Two", "Three"}


@pytest.mark.parametrize("small", [True, False])
def test_a_thicker_layer_is_drawn_higher(small: bool) -> None:
    side = a_side(a_layer("Stud", thickness=5.5), a_layer("Coat", thickness=0.125))
    heights = {row.layer.name: row.box.h for row in arranged(side, small=small).rows}
    assert heights["Stud"] > heights["Coat"]


def test_a_side_without_thicknesses_can_be_drawn() -> None:
    assert len(arranged(a_side(a_layer("One", thickness=0), a_layer("Two", thickness=0))).rows) == 2
