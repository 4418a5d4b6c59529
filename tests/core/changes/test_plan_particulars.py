"""What is said of an activity beside its kind, time and layers: each where it belongs."""

from dataclasses import replace
from typing import Any

import pytest

from server.core.changes.plan import ActivityFacts, AddActivity, ChangeActivity, EndActivity
from server.core.world import Sheet, TemporaryWork
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, DAY, PROJECT, a_project, on

WORLD = (
    a_project()
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_way("Old stair")
    .with_detail("Garden stair rail")
    .with_layer("Studs", parts=7)
    .with_layer("Wires", powered=True)
    .with_detail("Main flight")
    .with_layer("Treads")
    .with_detail("Solid guard")
    .with_decision("Sample accepted")
    .with_task("Finish coat", wet=True, stuff="lime", sample_id="sample-accepted")
    .put(
        TemporaryWork(id="t1", project_id=PROJECT, kind="scaffold", name="Tower", put_in=NOW),
        Sheet(
            id="s1",
            project_id=PROJECT,
            detail_id="garden-stair-rail",
            number="A-7",
            revision="1",
        ),
    )
)


def added(**other: Any) -> AddActivity:
    plain: dict[str, Any] = {"name": "Wire the channel", "work": DAY}
    facts = ActivityFacts(**{**plain, **other})
    return AddActivity(id="a9", detail_id="garden-stair-rail", facts=facts)


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"stuff": "mud"}, "input.not_a_choice", "stuff"),
        ({"kind": "delivery", "stuff": "lime"}, "plan.not_of_this_kind", "stuff"),
        ({"kind": "wait", "shakes": True}, "plan.not_of_this_kind", "shakes"),
        ({"kind": "wait", "finish_wood": True}, "plan.not_of_this_kind", "finish_wood"),
        ({"kind": "wait", "sheet_id": "s1"}, "plan.not_of_this_kind", "sheet_id"),
        ({"review": CLOCK_DAY}, "plan.not_of_this_kind", "review"),
        ({"kind": "delivery", "review": -1}, "input.number_outside", "review"),
        ({"kind": "delivery", "review": 367 * CLOCK_DAY}, "input.number_outside", "review"),
        ({"fire_watch": True}, "plan.watch_without_fire", "fire_watch"),
        ({"circuit": "x" * 41}, "input.long_text", "circuit"),
        ({"temporary": "paints", "temporary_id": "t1"}, "input.not_a_choice", "temporary"),
        ({"temporary": "strikes"}, "plan.which_temporary", "temporary_id"),
        ({"temporary_id": "t1"}, "plan.what_with_temporary", "temporary"),
        ({"temporary": "strikes", "temporary_id": "t9"}, "change.gone", "temporary_id"),
        ({"way_in_id": "chute"}, "change.gone", "way_in_id"),
        ({"sheet_id": "s9"}, "change.gone", "sheet_id"),
        ({"sample_id": "nothing"}, "change.gone", "sample_id"),
        ({"sample_id": "finish-coat"}, "plan.no_decision", "sample_id"),
        ({"needs_open": {"treads": ()}}, "plan.layer_elsewhere", "needs_open"),
        ({"needs_open": {"studs": (8,)}}, "plan.no_such_part", "needs_open"),
        ({"kind": "wait", "needs_open": {"studs": ()}}, "plan.only_a_task", "needs_open"),
        (
            {"puts_in": {"wires": ()}, "needs_open": {"wires": ()}},
            "plan.puts_in_and_needs_open",
            "needs_open",
        ),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, added(**other)) == (id, field)


@pytest.mark.parametrize(
    "other",
    [
        {"hot": True, "fire_watch": True},
        {"temporary": "stands on", "temporary_id": "t1"},
        {"kind": "delivery", "review": 14 * CLOCK_DAY, "finish_wood": True},
        {"kind": "delivery", "way_in_id": "old-stair", "sheet_id": "s1"},
        {"kind": "wait", "stuff": "grout"},
        {"shakes": True, "carries_datum": True, "circuit": "7"},
        {"sample_id": "sample-accepted", "sheet_id": "s1", "way_in_id": "old-stair"},
    ],
)
def test_what_goes_with_its_kind_is_kept_as_it_was_said(other: Any) -> None:
    activity = pressed(WORLD, added(**other)).activities["a9"]
    assert {name: getattr(activity, name) for name in other} == other


def test_a_circuit_is_kept_without_space_around_it() -> None:
    assert pressed(WORLD, added(circuit="  7,  left ")).activities["a9"].circuit == "7, left"


def test_a_task_needs_some_parts_of_a_layer_open() -> None:
    after = pressed(WORLD, added(puts_in={"wires": ()}, needs_open={"studs": (3, 1)}))
    effects = {(e.verb, e.layer_id, e.parts) for e in after.effects_of["a9"]}
    assert effects == {("puts in", "wires", ()), ("needs open", "studs", (1, 3))}


def test_another_circuit_has_not_been_recorded_dead() -> None:
    world = WORLD.with_task("Hang lamps", circuit="7", circuit_dead=on("Dec 2"))
    same = ActivityFacts(name="Hang the lamps", work=DAY, circuit="7")
    renamed = pressed(world, ChangeActivity(activity_id="hang-lamps", facts=same))
    other = replace(same, circuit="9")
    changed = pressed(world, ChangeActivity(activity_id="hang-lamps", facts=other))
    assert renamed.activities["hang-lamps"].circuit_dead == on("Dec 2")
    assert changed.activities["hang-lamps"].circuit_dead is None


def test_a_decision_that_leaves_the_chain_is_no_sample_of_open_work() -> None:
    after = pressed(WORLD, EndActivity(activity_id="sample-accepted"))
    assert after.activities["finish-coat"].sample_id is None


def test_work_that_is_done_keeps_the_sample_it_matched() -> None:
    world = WORLD.with_changed("Finish coat", started=on("Dec 1"), finished=on("Dec 1 15:30"))
    after = pressed(world, EndActivity(activity_id="sample-accepted"))
    assert after.activities["finish-coat"].sample_id == "sample-accepted"
