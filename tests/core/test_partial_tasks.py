"""Tasks for some parts of a layer only: what is in, what is hidden, what comes before what."""

from server.core.cover import contradicted, covering, implied, undrawn
from server.core.states import hidden_parts, layer_state, looked_at
from server.core.warnings import find
from server.core.world import Snapshot
from server.core.world.network import forecast
from tests.worlds import HOUR, World, a_project, on

NOW = on("Dec 3 10:45")
LOW, HIGH = (1, 2, 3, 4, 5), (6,)
WORLD = (
    a_project()
    .with_detail("Garden stair rail")
    .with_layer("Bays", parts=6, part_name="bay")
    .with_task("Fill the low bays", HOUR)
    .with_effect("Fill the low bays", "puts in", "Bays", LOW)
    .with_task("Fill the top bay", HOUR, after="Fill the low bays")
    .with_effect("Fill the top bay", "puts in", "Bays", HIGH)
    .with_check("Fill", after="Fill the top bay", layers="Bays", parts=6)
    .with_task("Board the low bays", HOUR, after="Fill the low bays")
    .with_effect("Board the low bays", "covers", "Bays", LOW)
    .with_task("Board the top bay", HOUR, after="Fill")
    .with_effect("Board the top bay", "covers", "Bays", HIGH)
)
LOW_IN = WORLD.with_changed("Fill the low bays", started=on("Dec 1"), finished=on("Dec 1 8:00"))
ALL_IN = LOW_IN.with_changed("Fill the top bay", started=on("Dec 2"), finished=on("Dec 2 8:00"))


def states(world: World) -> list[str]:
    snapshot = world.snapshot()
    return [layer_state(snapshot, snapshot.layers["bays"], no) for no in range(1, 7)]


def pairs(snapshot: Snapshot) -> set[tuple[str, str, str]]:
    return {(i.before_id, i.after_id, i.why) for i in implied(snapshot)}


def test_five_bays_are_in_and_the_sixth_is_to_come() -> None:
    assert states(LOW_IN) == ["in the open"] * 5 + ["to come"]
    snapshot = LOW_IN.snapshot()
    assert layer_state(snapshot, snapshot.layers["bays"]) == "going in"


def test_five_bays_are_hidden_and_the_layer_is_not_as_long_as_one_is_open() -> None:
    world = ALL_IN.with_changed(
        "Board the low bays", started=on("Dec 3"), finished=on("Dec 3 8:00")
    )
    assert states(world) == ["covered"] * 5 + ["in the open"]
    snapshot = world.snapshot()
    assert layer_state(snapshot, snapshot.layers["bays"]) == "in the open"


def test_what_hides_bays_follows_what_fills_those_bays_and_no_others() -> None:
    found = pairs(WORLD.snapshot())
    assert ("fill-the-low-bays", "board-the-low-bays", "put in") in found
    assert ("fill-the-top-bay", "board-the-top-bay", "put in") in found
    assert not {p for p in found if p[:2] == ("fill-the-top-bay", "board-the-low-bays")}


def test_a_check_comes_before_whatever_hides_any_of_what_it_looks_at() -> None:
    assert undrawn(WORLD.snapshot()) == (("fill", "board-the-low-bays"),)
    assert contradicted(WORLD.snapshot()) == ()
    assert "undrawn order" in {
        w.rule for w in find(WORLD.snapshot(), forecast(WORLD.snapshot(), NOW))
    }


def test_a_check_looks_at_what_all_of_them_put_in() -> None:
    snapshot = WORLD.snapshot()
    hold = snapshot.holds["fill-check"]
    assert [a.id for a in looked_at(snapshot, hold)] == ["fill-the-low-bays", "fill-the-top-bay"]


def test_only_what_hides_parts_that_are_not_ok_covers_what_the_check_looks_at() -> None:
    world = ALL_IN.with_attempt("Fill", "released", left_out=(6,))
    snapshot = world.snapshot()
    hold = snapshot.holds["fill-check"]
    assert [a.id for a in covering(snapshot, hold)] == ["board-the-top-bay"]
    low = snapshot.activities["board-the-low-bays"]
    top = snapshot.activities["board-the-top-bay"]
    assert hidden_parts(snapshot, low, hold) == frozenset()
    assert hidden_parts(snapshot, top, hold) == {6}
