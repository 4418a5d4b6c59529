"""What comes after what: arrows, the time between, and rings."""

from typing import Any

import pytest

from server.core.changes import change
from server.core.changes.plan import AddDependency, ChangeDependency, EndDependency
from server.core.changes.rules_plan_dependencies import Ring
from server.words import say
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, World, a_project, actor

WORLD = (
    a_project()
    .with_detail("Main flight")
    .with_task("Treads")
    .with_detail("Garden stair rail")
    .with_task("Board")
    .with_task("Tape", after="Board")
    .with_task("Base coat")
    .with_dependency("Tape", "Base coat", type="SS", tag="P", lag=60)
)


def added(before: str, after: str, **other: Any) -> AddDependency:
    return AddDependency(id="x9", before_id=before, after_id=after, **other)


def test_an_arrow_may_lead_from_one_detail_to_another() -> None:
    after = pressed(WORLD, added("treads", "board", type="FF", lag=-60, most=0))
    arrow = after.dependencies["x9"]
    assert (arrow.type, arrow.lag, arrow.most) == ("FF", -60, 0)


@pytest.mark.parametrize(
    ("before", "after", "other", "id", "field"),
    [
        ("attic", "board", {}, "change.gone", "before_id"),
        ("board", "attic", {}, "change.gone", "after_id"),
        ("board", "board", {}, "plan.after_itself", "before_id"),
        ("board", "tape", {}, "plan.dependency_doubled", "before_id"),
        ("treads", "board", {"type": "XX"}, "input.not_a_choice", "type"),
        ("treads", "board", {"lag_on": "moon"}, "input.not_a_choice", "lag_on"),
        ("treads", "board", {"lag": 60, "most": 59}, "plan.most_below_wait", "most"),
        ("treads", "board", {"lag": 731 * CLOCK_DAY}, "plan.absurd_time", "lag"),
        ("treads", "board", {"most": 731 * CLOCK_DAY}, "plan.absurd_time", "most"),
        ("base-coat", "board", {}, "plan.ring", "before_id"),
        ("tape", "board", {"type": "FF"}, "plan.ring", "before_id"),
    ],
)
def test_a_wrong_arrow_is_refused_at_its_field(
    before: str, after: str, other: Any, id: str, field: str
) -> None:
    assert refused(WORLD, added(before, after, **other)) == (id, field)


def test_a_second_arrow_of_another_type_is_taken() -> None:
    assert "x9" in pressed(WORLD, added("board", "tape", type="FF")).dependencies


def test_a_ring_is_named_in_its_order() -> None:
    before = WORLD.snapshot()
    with pytest.raises(Ring) as caught:
        change(before, actor(before), added("base-coat", "board"), NOW)
    assert caught.value.path == ("Base coat", "Board", "Tape")
    assert "Base coat, Board and Tape" in say(caught.value.message)


def test_an_arrow_back_over_an_ended_arrow_makes_no_ring() -> None:
    world = World(pressed(WORLD, EndDependency(dependency_id="tape>base-coat")))
    assert "x9" in pressed(world, added("base-coat", "board")).dependencies


def test_an_ended_activity_comes_after_nothing() -> None:
    world = WORLD.with_changed("Tape", ended=NOW)
    assert refused(world, added("tape", "treads")) == ("change.gone", "before_id")


def test_a_changed_arrow_is_the_company_s_own_number() -> None:
    command = ChangeDependency(dependency_id="tape>base-coat", type="FS", lag=CLOCK_DAY)
    arrow = pressed(WORLD, command).dependencies["tape>base-coat"]
    assert (arrow.type, arrow.lag, arrow.tag, arrow.version) == ("FS", CLOCK_DAY, "", 2)


def test_an_arrow_does_not_change_into_one_there_is() -> None:
    twin = pressed(WORLD, added("tape", "base-coat", type="FF")).dependencies["x9"]
    command = ChangeDependency(dependency_id=twin.id, type="SS")
    assert refused(WORLD.put(twin), command)[0] == "plan.dependency_doubled"


def test_an_ended_arrow_is_gone() -> None:
    after = pressed(WORLD, EndDependency(dependency_id="tape>base-coat"))
    assert "tape>base-coat" not in after.dependencies
    assert refused(WORLD, EndDependency(dependency_id="nothing"))[0] == "change.gone"
