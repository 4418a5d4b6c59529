import re
from typing import get_args
from xml.etree import ElementTree

import pytest

from server.drawing.buildup import build_up_svg
from server.drawing.hatches import hatch_defs
from server.drawing.layers import LayerState, PartDrawn, runs_of
from server.drawing.notes import NoteLeader
from tests.drawing.sides import a_layer, a_peg, a_side, fourteen_long_layers

STATES = get_args(LayerState)


def drawn(*layers: object, small: bool = False, **more: object) -> str:
    side = a_side(*layers, **more)  # type: ignore[arg-type]
    return str(build_up_svg(side, title="Wall side", desc="Board to come", small=small))


@pytest.mark.parametrize("small", [True, False])
def test_a_name_in_any_script_and_with_markup_in_it_is_well_formed(small: bool) -> None:
    nasty = 'Ñandú <script>alert("1")</script> & \x00\x1b 石膏 جص गारा 👷🏽'
    text = drawn(
        a_layer(nasty, who_text=nasty, thickness_text=nasty),
        small=small,
        pegs=(a_peg(nasty, label=nasty, href='/h/"><b>'),),
        notes=(NoteLeader(1, "danger", nasty, layer=nasty, href='/n/"'),),
    )
    ElementTree.fromstring(text)
    assert "<script" not in text
    assert '"><b>' not in text


def test_each_state_of_a_layer_is_inked_differently() -> None:
    assert len({drawn(a_layer(state=state)).split('class="bu-label')[0] for state in STATES}) == 5


@pytest.mark.parametrize("state", STATES)
def test_the_next_layer_is_outlined_whatever_its_state(state: LayerState) -> None:
    assert "bu-next" in drawn(a_layer(state=state, next=True))
    assert "bu-next" not in drawn(a_layer(state=state))


def test_neighboring_parts_in_one_state_are_one_run() -> None:
    parts = tuple(
        PartDrawn(no, state)  # type: ignore[arg-type]
        for no, state in enumerate(["covered", "covered", "in the open", "to come"], start=1)
    )
    runs = runs_of(a_layer(parts=parts))
    assert [(run.text, run.state) for run in runs] == [
        ("1–2", "covered"),
        ("3", "in the open"),
        ("4", "to come"),
    ]


def test_parts_in_one_state_do_not_split_their_layer() -> None:
    parts = (PartDrawn(1, "covered"), PartDrawn(2, "covered"))
    split = (PartDrawn(1, "covered"), PartDrawn(2, "in the open"))
    assert drawn(a_layer(parts=parts)) == drawn(a_layer(state="covered")).replace(
        "is-covered", "is-to-come"
    )
    assert drawn(a_layer(parts=split)).count("bu-sheet") > drawn(a_layer(parts=parts)).count(
        "bu-sheet"
    )


def heights_of_rods(text: str) -> list[float]:
    return [float(top) for top in re.findall(r'd="M\S+ \S+V(\S+)H\S+V\S+" class="th-', text)]


def test_what_passes_through_runs_to_the_face() -> None:
    rod = a_layer("Rods", material="steel", passes_through=True)
    (first, *_) = heights_of_rods(drawn(a_layer("Studs"), rod, a_layer("Board"), a_layer("Coat")))
    assert first < 7


def test_what_passes_through_ends_in_the_layer_that_it_is_let_into() -> None:
    rod = a_layer("Rods", material="steel", passes_through=True, through_to="Board")
    text = drawn(a_layer("Studs"), rod, a_layer("Board"), a_layer("Coat"))
    face = a_layer("Rods", material="steel", passes_through=True)
    shorter = heights_of_rods(text)
    longer = heights_of_rods(drawn(a_layer("Studs"), face, a_layer("Board"), a_layer("Coat")))
    assert min(shorter) > max(longer)


def test_a_small_drawing_has_neither_labels_nor_notes() -> None:
    note = NoteLeader(1, "watch", "Note 1", layer="Board")
    text = drawn(a_layer("Board"), small=True, notes=(note,))
    assert "<text" not in text
    assert "Note 1" not in text


def test_a_note_about_nothing_in_the_drawing_is_left_out() -> None:
    assert "Note 1" not in drawn(a_layer(), notes=(NoteLeader(1, "watch", "Note 1", layer="x"),))


def test_a_drawing_is_an_image_with_words_and_a_group_where_it_holds_links() -> None:
    plain = ElementTree.fromstring(drawn(a_layer()))
    linked = ElementTree.fromstring(drawn(a_layer("Board"), pegs=(a_peg("Board", href="/h/1"),)))
    assert (plain.get("role"), linked.get("role")) == ("img", "group")
    assert (plain[0].text, plain[1].text) == ("Wall side", "Board to come")


def test_an_empty_side_is_an_empty_outline() -> None:
    assert ElementTree.fromstring(drawn()).find("rect") is not None


def test_a_drawing_needs_no_inline_style() -> None:
    text = str(build_up_svg(fourteen_long_layers(), title="a", desc="b")) + hatch_defs()
    assert "style" not in text
    assert "<script" not in text
