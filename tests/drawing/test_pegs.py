from itertools import combinations

import pytest

from server.drawing.buildup import arranged
from server.drawing.pegs import PegState, peg_mark
from tests.drawing.sides import a_layer, a_peg, a_side

STATES: tuple[PegState, ...] = ("empty", "set", "driven", "pulled", "again")


@pytest.mark.parametrize("small", [True, False])
@pytest.mark.parametrize("count", range(1, 13))
def test_pegs_in_one_joint_never_touch(count: int, small: bool) -> None:
    pegs = tuple(a_peg("Board", str(no)) for no in range(count))
    boxes = [box for _, box in arranged(a_side(a_layer("Board"), pegs=pegs), small=small).pegs]
    assert len(boxes) == count
    assert not any(one.touches(other) for one, other in combinations(boxes, 2))


@pytest.mark.parametrize("small", [True, False])
def test_pegs_of_neighboring_joints_never_touch(small: bool) -> None:
    layers = [a_layer(f"Coat {no}", thickness=0.01) for no in range(8)]
    layers.append(a_layer("Blocking", within="Coat 3"))
    pegs = tuple(a_peg(layer.id, f"{layer.id}/{no}") for layer in layers for no in range(3))
    boxes = [box for _, box in arranged(a_side(*layers, pegs=pegs), small=small).pegs]
    assert len(boxes) == 27
    assert not any(one.touches(other) for one, other in combinations(boxes, 2))


@pytest.mark.parametrize("small", [True, False])
def test_a_peg_stands_across_its_joint_and_inside_the_layers_width(small: bool) -> None:
    pegs = tuple(a_peg("Board", str(no)) for no in range(12))
    plan = arranged(a_side(a_layer("Board"), a_layer("Coat"), pegs=pegs), small=small)
    board = next(row.box for row in plan.rows if row.layer.name == "Board")
    for _, box in plan.pegs:
        assert box.y < board.y < box.bottom
        assert board.x <= box.x
        assert box.right <= board.right


def test_a_peg_on_the_face_is_not_cut_off_at_the_top() -> None:
    (placed,) = arranged(a_side(a_layer("Board"), pegs=(a_peg("Board"),))).pegs
    assert placed[1].y >= 0


def test_a_peg_of_a_layer_that_is_not_drawn_is_left_out() -> None:
    assert arranged(a_side(a_layer("Board"), pegs=(a_peg("gone"),))).pegs == ()


def test_each_state_of_a_check_has_a_shape_of_its_own() -> None:
    without_color = {peg_mark(state).replace(f"pg-{state}-is", "") for state in STATES}
    assert len(without_color) == len(STATES)
