"""The layers of a side: where they stand, what they lie within, when they may go."""

from fractions import Fraction
from typing import Any

import pytest

from server.core.changes.plan import AddLayer, ChangeLayer, EndLayer, LayerFacts
from server.core.changes.rules_plan_layers import layers_of
from server.core.world import Snapshot
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import a_project, on

SIDE = "garden-stair-rail-stair-side"
WORLD = (
    a_project()
    .with_detail("Garden stair rail")
    .with_layer("Studs")
    .with_layer("Blocking", within_id="studs", parts=3)
    .with_layer("Board", "board")
    .with_task("Block", puts_in="Blocking")
    .with_check("Look at the blocking", after="Block", layers="Blocking")
    .with_side("Landing side")
    .with_layer("Skin")
)


def facts(**other: Any) -> LayerFacts:
    return LayerFacts(**{"name": "Finish coat", "material": "lime plaster", **other})


def names(snapshot: Snapshot) -> list[str]:
    return [layer.name for layer in layers_of(snapshot, SIDE)]


def test_a_layer_goes_right_over_the_one_it_is_put_over() -> None:
    after = pressed(WORLD, AddLayer(id="l9", side_id=SIDE, facts=facts(), over_id="studs"))
    assert names(after) == ["Studs", "Finish coat", "Blocking", "Board"]


def test_a_layer_over_none_goes_to_the_bearing_side() -> None:
    after = pressed(WORLD, AddLayer(id="l9", side_id=SIDE, facts=facts()))
    assert names(after) == ["Finish coat", "Studs", "Blocking", "Board"]


def test_a_layer_over_the_last_moves_no_other() -> None:
    before = WORLD.snapshot()
    after = pressed(WORLD, AddLayer(id="l9", side_id=SIDE, facts=facts(), over_id="board"))
    assert names(after)[-1] == "Finish coat"
    assert {id: after.layers[id] for id in before.layers} == before.layers


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"name": ""}, "input.no_name", "name"),
        ({"material": ""}, "input.no_name", "material"),
        ({"thickness": Fraction(0)}, "plan.absurd_thickness", "thickness"),
        ({"thickness": Fraction(241)}, "plan.absurd_thickness", "thickness"),
        ({"parts": -1}, "input.number_outside", "parts"),
        ({"parts": 201}, "input.number_outside", "parts"),
        ({"within_id": "nothing"}, "change.gone", "within_id"),
        ({"within_id": "skin"}, "plan.within_elsewhere", "within_id"),
    ],
)
def test_a_wrong_layer_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, AddLayer(id="l9", side_id=SIDE, facts=facts(**other))) == (id, field)


def test_a_layer_over_one_of_another_side_is_refused() -> None:
    command = AddLayer(id="l9", side_id=SIDE, facts=facts(), over_id="skin")
    assert refused(WORLD, command) == ("change.gone", "over_id")


def test_a_finished_face_and_a_powered_wire_are_kept_as_such() -> None:
    said = facts(finished=True, powered=True)
    layer = pressed(WORLD, AddLayer(id="l9", side_id=SIDE, facts=said)).layers["l9"]
    assert (layer.finished, layer.powered) == (True, True)


@pytest.mark.parametrize("within", ["studs", "blocking"])
def test_a_layer_lies_neither_within_itself_nor_within_what_lies_in_it(within: str) -> None:
    command = ChangeLayer(layer_id="studs", facts=facts(within_id=within))
    assert refused(WORLD, command) == ("plan.within_itself", "within_id")


def test_a_layer_keeps_the_parts_that_a_task_names() -> None:
    world = WORLD.with_effect("Block", "puts in", "Blocking", parts=(3,))
    command = ChangeLayer(layer_id="blocking", facts=facts(parts=2))
    assert refused(world, command) == ("plan.part_in_use", "parts")
    fewer = ChangeLayer(layer_id="blocking", facts=facts(parts=2))
    assert pressed(WORLD, fewer).layers["blocking"].parts == 2


def test_a_changed_thickness_is_no_longer_common_practice() -> None:
    world = WORLD.with_changed("Board", tag="P", thickness=Fraction(1, 2))
    half, other = facts(thickness=Fraction(1, 2)), facts(thickness=Fraction(5, 8))
    kept = pressed(world, ChangeLayer(layer_id="board", facts=half))
    changed = pressed(world, ChangeLayer(layer_id="board", facts=other))
    assert (kept.layers["board"].tag, changed.layers["board"].tag) == ("P", "")


def test_an_ended_layer_takes_what_was_planned_on_it_along() -> None:
    world = WORLD.with_task("Template", measured_from_id="blocking")
    after = pressed(world, EndLayer(layer_id="blocking"))
    assert after.layers["blocking"].ended == NOW
    assert not after.effects
    assert after.holds["look-at-the-blocking-check"].layer_ids == ()
    assert after.activities["template"].measured_from_id is None


def test_what_lay_within_an_ended_layer_lies_in_the_side_itself() -> None:
    assert pressed(WORLD, EndLayer(layer_id="studs")).layers["blocking"].within_id is None


def test_a_layer_that_was_worked_on_is_not_ended() -> None:
    world = WORLD.with_changed("Block", started=on("Dec 1"))
    assert refused(world, EndLayer(layer_id="blocking"))[0] == "plan.layer_worked_on"


def test_a_layer_that_was_looked_at_is_not_ended() -> None:
    world = WORLD.with_attempt("Look at the blocking")
    assert refused(world, EndLayer(layer_id="blocking"))[0] == "plan.layer_worked_on"
