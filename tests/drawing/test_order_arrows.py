"""The order that layers imply: arrows that meet their layers and never a word or each other."""

from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest

from server.drawing.buildup import BuildUp
from server.drawing.order_arrows import arrow_mark, order_arrows
from server.drawing.order_lanes import Arrow, End, Placed, Sheet, sheets
from server.drawing.svg import Box
from server.drawing.text import width_of
from tests.drawing.sides import LONG, a_layer, a_peg, a_side, fourteen_long_layers

WIRE_FIRST = Arrow(1, End("Wire"), End("Board"))


def wall() -> BuildUp:
    """Studs with a wire within, board, coat; two checks on the studs, one on the board."""
    return a_side(
        a_layer("Studs"),
        a_layer("Wire", within="Studs"),
        a_layer("Board"),
        a_layer("Coat"),
        pegs=(a_peg("Studs", "string"), a_peg("Studs", "plumb"), a_peg("Board", "screws")),
    )


def the_sheet(*arrows: Arrow, side: BuildUp | None = None) -> Sheet:
    (sheet,) = sheets(side or wall(), arrows)
    return sheet


def the_arrow(*arrows: Arrow) -> tuple[Sheet, Placed]:
    sheet = the_sheet(*arrows)
    return sheet, sheet.arrows[0]


def drawn(*arrows: Arrow, side: BuildUp | None = None) -> str:
    return "".join(order_arrows(side or wall(), arrows, title="Order", desc="Arrows"))


def rows_of(sheet: Sheet) -> dict[str, Box]:
    return {row.layer.name: row.box for row in sheet.rows}


def strokes(one: Placed) -> list[Box]:
    """The three pieces of an arrow: to its lane, along it, and to its end."""
    (x, y), (end_x, end_y) = one.start, one.end
    return [
        Box(one.lane, y, x - one.lane, 0),
        Box(one.lane, min(y, end_y), 0, abs(y - end_y)),
        Box(one.lane, end_y, end_x - one.lane, 0),
    ]


def many(count: int, start: str = "l5", end: str = "l9") -> list[Arrow]:
    return [Arrow(no, End(start), End(end), no % 2 == 0) for no in range(1, count + 1)]


def test_an_arrow_goes_from_what_comes_first_to_what_covers_it() -> None:
    sheet, one = the_arrow(WIRE_FIRST)
    wire, board = rows_of(sheet)["Wire"], rows_of(sheet)["Board"]
    assert one.start[0] == wire.x
    assert wire.y < one.start[1] < wire.bottom
    assert one.end[0] == board.x
    assert board.y < one.end[1] < board.bottom


def test_the_arrow_of_a_check_starts_at_its_peg() -> None:
    sheet, one = the_arrow(Arrow(1, End("Studs", hold="plumb"), End("Board")))
    ((peg, box),) = sheet.pegs
    assert peg.hold_id == "plumb"
    assert one.start[0] == box.x
    assert box.y < one.start[1] < box.bottom


def test_checks_on_one_joint_start_their_arrows_at_different_heights() -> None:
    holds = (
        Arrow(no, End("Studs", hold=of), End("Board")) for no, of in enumerate(("string", "plumb"))
    )
    one, other = the_sheet(*holds).arrows
    assert one.start[1] != other.start[1]


def test_a_task_that_works_within_a_layer_is_named_beside_it_with_the_number() -> None:
    sheet, one = the_arrow(Arrow(4, End("Wire", task="Try the circuit"), End("Board")))
    label = next(row.label for row in sheet.rows if row.layer.name == "Wire")
    assert [line.text for line in label] == ["Wire", "4 Try the circuit"]
    assert one.start[0] == rows_of(sheet)["Wire"].x


def test_a_cover_without_a_layer_is_named_where_its_arrow_meets_the_face() -> None:
    sheet, one = the_arrow(Arrow(1, End("Coat"), End("Coat", task="Take the sheet down")))
    assert one.end == (rows_of(sheet)["Coat"].x, rows_of(sheet)["Coat"].y)
    assert one.start[1] > one.end[1]


def test_an_arrow_of_a_layer_that_is_not_drawn_is_left_out() -> None:
    assert sheets(wall(), [Arrow(1, End("gone"), End("Board"))]) == ()
    assert len(the_sheet(WIRE_FIRST, Arrow(2, End("Wire"), End("gone"))).arrows) == 1


@pytest.mark.parametrize("count", [1, 3, 5, 12])
def test_no_arrow_meets_a_word(count: int) -> None:
    for sheet in sheets(fourteen_long_layers(), many(count)):
        words = sheet.measures.label_left
        assert words is not None
        rightmost = max(box.right for one in sheet.arrows for box in (*strokes(one), one.chip))
        assert rightmost < words
        for row in sheet.rows:
            for line in row.label:
                assert words + width_of(line.text, line.size) <= sheet.measures.width


@pytest.mark.parametrize("count", [2, 5, 12, 30])
def test_no_two_arrows_share_a_stroke_nor_their_numbers_a_place(count: int) -> None:
    for sheet in sheets(fourteen_long_layers(), many(count)):
        for one, other in combinations(sheet.arrows, 2):
            assert not any(a.touches(b) for a, b in zip(strokes(one), strokes(other), strict=True))
            assert not one.chip.touches(other.chip)


def test_heads_at_one_layer_stand_apart() -> None:
    (sheet, *_) = sheets(fourteen_long_layers(), many(5))
    heights = sorted(one.end[1] for one in sheet.arrows)
    assert len(heights) > 2
    assert min(b - a for a, b in pairwise(heights)) >= 9


@pytest.mark.parametrize("count", [1, 9, 40])
def test_every_arrow_is_drawn_once_and_inside_its_drawing(count: int) -> None:
    found = [one for sheet in sheets(fourteen_long_layers(), many(count)) for one in sheet.arrows]
    assert sorted(one.arrow.number for one in found) == list(range(1, count + 1))
    assert all(box.x >= 0 for one in found for box in (*strokes(one), one.chip))


def test_arrows_that_lie_within_each_other_do_not_cross() -> None:
    sheet = the_sheet(Arrow(3, End("Wire"), End("Board")), Arrow(4, End("Wire"), End("Coat")))
    (_, up, _), (along, _, into) = strokes(sheet.arrows[0]), strokes(sheet.arrows[1])
    assert not up.touches(along)
    assert not up.touches(into)


def test_a_number_does_not_stand_on_another_arrow_where_there_is_room() -> None:
    sheet = the_sheet(Arrow(1, End("Wire"), End("Board")), Arrow(2, End("Wire"), End("Coat")))
    for one, other in ((0, 1), (1, 0)):
        chip = sheet.arrows[one].chip
        assert not any(chip.touches(stroke) for stroke in strokes(sheet.arrows[other]))


def test_what_the_plan_contradicts_is_barred_and_what_it_lacks_is_not() -> None:
    against = Arrow(1, End("Wire"), End("Board"), against=True)
    assert drawn(against).count("oa-bar") == 1
    assert "oa-bar" not in drawn(WIRE_FIRST)
    assert "oa-bar" in arrow_mark(1, against=True)
    assert "oa-bar" not in arrow_mark(1, against=False)


def test_only_the_checks_that_arrows_start_from_have_pegs() -> None:
    assert the_sheet(WIRE_FIRST).pegs == ()


def test_words_are_large_enough_on_the_smallest_phone() -> None:
    # 32 of 320 pixels are the page's margins.
    for sheet in sheets(fourteen_long_layers(), many(12)):
        sizes = [line.size for row in sheet.rows for line in row.label]
        assert min(sizes) * 288 / sheet.measures.width >= 12


def test_any_name_is_well_formed() -> None:
    nasty = 'Ñandú <script>alert("1")</script> & \x00\x1b 石膏 جص गारा 👷🏽'
    side = a_side(
        a_layer(nasty), a_layer(LONG), pegs=(a_peg(nasty, "h", label=nasty, href='"><b>'),)
    )
    arrows = (
        Arrow(1, End(nasty, task=nasty), End(LONG)),
        Arrow(2, End(nasty, hold="h"), End(LONG), against=True),
    )
    (text,) = order_arrows(side, arrows, title=nasty, desc=nasty)
    root = ElementTree.fromstring(text)
    assert root.get("role") == "img"
    assert "<script" not in text
    assert "<a " not in text
    assert "style" not in text


def test_layers_that_lie_within_each_other_are_still_drawn() -> None:
    side = a_side(a_layer("One", within="Two"), a_layer("Two", within="One"))
    assert len(the_sheet(Arrow(1, End("One"), End("Two")), side=side).arrows) == 1
