"""Sides renamed, put in order, ended; layers in another place of the stack; a floor renamed."""

from server.core.changes.places import ChangeFloor
from server.core.changes.plan import EndLayer
from server.core.changes.plan_rows import ChangeSide, EndSide, MoveLayer
from server.core.changes.rules_plan_layers import layers_of
from server.core.changes.rules_plan_sides import sides_of
from server.core.world import Snapshot
from tests.core.changes.pressing import pressed, refused
from tests.worlds import World, a_project

RAIL = "garden-stair-rail"
STAIR_SIDE, SOFFIT = f"{RAIL}-stair-side", f"{RAIL}-soffit"
WORLD = (
    a_project()
    .with_detail("Garden stair rail")
    .with_layer("Studs")
    .with_layer("Wire", within_id="studs")
    .with_layer("Batts", within_id="studs")
    .with_layer("Lath")
    .with_layer("Plaster")
    .with_side("Soffit")
)


def sides(snapshot: Snapshot) -> list[str]:
    return [side.name for side in sides_of(snapshot, RAIL)]


def stack(snapshot: Snapshot) -> list[str]:
    return [layer.name for layer in layers_of(snapshot, STAIR_SIDE)]


def moved(layer: str, over: str | None) -> MoveLayer:
    return MoveLayer(layer_id=layer, over_id=over)


def test_a_side_gets_another_name_where_it_is() -> None:
    command = ChangeSide(side_id=SOFFIT, name="Soffit from below", behind_id=STAIR_SIDE)
    after = pressed(WORLD, command)
    assert sides(after) == ["Stair side", "Soffit from below"]
    assert after.sides[SOFFIT].order == WORLD.snapshot().sides[SOFFIT].order


def test_a_side_becomes_the_first() -> None:
    after = pressed(WORLD, ChangeSide(side_id=SOFFIT, name="Soffit", behind_id=None))
    assert sides(after) == ["Soffit", "Stair side"]


def test_two_sides_are_not_called_alike_nor_one_put_behind_itself() -> None:
    command = ChangeSide(side_id=SOFFIT, name="stair side", behind_id=None)
    assert refused(WORLD, command) == ("input.name_taken", "name")
    command = ChangeSide(side_id=SOFFIT, name="Soffit", behind_id=SOFFIT)
    assert refused(WORLD, command) == ("change.gone", "behind_id")


def test_a_side_without_layers_goes_and_one_with_layers_says_which() -> None:
    assert SOFFIT not in pressed(WORLD, EndSide(side_id=SOFFIT)).sides
    assert refused(WORLD, EndSide(side_id=STAIR_SIDE)) == ("plan.side_has_layers", "side_id")


def test_layers_that_were_not_put_in_go_with_their_side() -> None:
    world = WORLD.with_layer("Board")
    after = World(pressed(world, EndLayer(layer_id="board")))
    gone = pressed(after, EndSide(side_id=SOFFIT))
    assert (SOFFIT in gone.sides, "board" in gone.layers) == (False, False)


def test_a_layer_goes_over_another() -> None:
    after = pressed(WORLD, moved("plaster", "studs"))
    assert stack(after) == ["Studs", "Wire", "Batts", "Plaster", "Lath"]


def test_over_a_layer_within_another_is_over_that_other() -> None:
    after = pressed(WORLD, moved("plaster", "wire"))
    assert stack(after) == ["Studs", "Wire", "Batts", "Plaster", "Lath"]


def test_a_layer_goes_to_the_bearing_side_with_what_lies_within_it() -> None:
    assert stack(pressed(WORLD, moved("lath", None)))[0] == "Lath"
    after = pressed(WORLD, moved("studs", "lath"))
    assert stack(after) == ["Lath", "Studs", "Wire", "Batts", "Plaster"]
    assert after.layers["wire"].within_id == "studs"


def test_what_lies_within_a_layer_moves_only_there() -> None:
    after = pressed(WORLD, moved("batts", "studs"))
    assert stack(after) == ["Studs", "Batts", "Wire", "Lath", "Plaster"]
    for over in ("lath", None):
        assert refused(WORLD, moved("batts", over)) == ("plan.stays_within", "over_id")


def test_a_layer_does_not_lie_over_itself_or_over_what_lies_within_it() -> None:
    assert refused(WORLD, moved("studs", "studs")) == ("plan.over_itself", "over_id")
    assert refused(WORLD, moved("studs", "wire")) == ("plan.over_itself", "over_id")
    assert refused(WORLD, moved("studs", "nothing")) == ("change.gone", "over_id")


def test_a_floor_gets_another_name_that_no_other_has() -> None:
    after = pressed(WORLD, ChangeFloor(floor_id="main-floor", name="Ground floor"))
    assert after.floors["main-floor"].name == "Ground floor"
    command = ChangeFloor(floor_id="main-floor", name="Upper floor")
    assert refused(WORLD, command) == ("input.name_taken", "name")
