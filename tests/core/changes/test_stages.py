"""A delivery is measured, drawn, approved, sent off; a circuit is recorded dead."""

from dataclasses import replace
from datetime import datetime

import pytest

from server.core.changes.actuals import Arrive
from server.core.changes.stages import CircuitDead, StageDelivery
from tests.core.changes.pressing import pressed, refused
from tests.worlds import World, a_project, on

WORLD = (
    a_project()
    .with_crew("Hobnail Millwork", trade="millwork")
    .with_crew("Sparrow Electric", trade="electric")
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_detail("Garden stair rail")
    .with_delivery("Rail", crew="Hobnail Millwork")
    .with_task("Wire the slot", crew="Sparrow Electric", circuit="7")
    .with_task("Base coat", crew="Ninepail Plaster")
)
DEAD = CircuitDead(activity_id="wire-the-slot", when=on("Dec 3 9:00"))


def staged(stage: str, when: datetime) -> StageDelivery:
    return StageDelivery(activity_id="rail", stage=stage, when=when)


def with_rail(**when: datetime) -> World:
    return WORLD.with_changed("Rail", **when)


@pytest.mark.parametrize("who", ["Rufus Orme", "Hobnail Millwork lead"])
def test_the_super_and_the_crew_whose_it_is_say_how_far_a_delivery_has_come(who: str) -> None:
    after = pressed(WORLD, staged("measured", on("Dec 2 9:00")), who)
    assert after.activities["rail"].measured == on("Dec 2 9:00")


def test_another_crew_does_not() -> None:
    command = staged("measured", on("Dec 2"))
    assert refused(WORLD, command, "Ninepail Plaster lead")[0] == "rights.not_your_work"


def test_nothing_is_approved_that_nobody_drew() -> None:
    assert refused(WORLD, staged("approved", on("Dec 2"))) == ("stages.nothing_to_approve", "when")


@pytest.mark.parametrize("stage", ["drawn", "shipped"])
def test_other_stages_may_be_left_out(stage: str) -> None:
    assert getattr(pressed(WORLD, staged(stage, on("Dec 2"))).activities["rail"], stage)


@pytest.mark.parametrize(
    ("there", "stage", "when", "id"),
    [
        ({"measured": on("Dec 2")}, "drawn", on("Dec 1"), "stages.before"),
        ({"drawn": on("Dec 2")}, "approved", on("Dec 1"), "stages.before"),
        ({"ordered": on("Dec 2")}, "shipped", on("Dec 1"), "stages.before"),
        ({"drawn": on("Dec 1")}, "measured", on("Dec 2"), "stages.after"),
        ({"shipped": on("Dec 1"), "drawn": on("Dec 1")}, "approved", on("Dec 2"), "stages.after"),
        ({"finished": on("Dec 1")}, "shipped", on("Dec 2"), "stages.after"),
    ],
)
def test_stages_come_in_their_order(
    there: dict[str, datetime], stage: str, when: datetime, id: str
) -> None:
    assert refused(with_rail(**there), staged(stage, when)) == (id, "when")


@pytest.mark.parametrize("stage", ["measured", "drawn", "approved"])
def test_an_order_may_go_out_before_the_drawing_is_approved(stage: str) -> None:
    there = {"ordered": on("Dec 1")} | ({"drawn": on("Dec 2")} if stage == "approved" else {})
    after = pressed(with_rail(**there), staged(stage, on("Dec 2")))
    assert getattr(after.activities["rail"], stage) == on("Dec 2")


def test_a_stage_at_a_wrong_time_is_recorded_again() -> None:
    after = pressed(with_rail(measured=on("Dec 1")), staged("measured", on("Dec 2")))
    assert after.activities["rail"].measured == on("Dec 2")


def test_a_stage_is_one_of_those_there_are_and_has_happened() -> None:
    assert refused(WORLD, staged("painted", on("Dec 2"))) == ("input.not_a_choice", "stage")
    assert refused(WORLD, staged("drawn", on("Dec 4"))) == ("actuals.in_the_future", "when")


def test_only_a_delivery_has_stages() -> None:
    command = replace(staged("drawn", on("Dec 2")), activity_id="base-coat")
    assert refused(WORLD, command)[0] == "actuals.other_kind"


def test_nothing_is_here_before_it_was_sent_off() -> None:
    command = Arrive(activity_id="rail", when=on("Dec 1 12:00"))
    assert refused(with_rail(shipped=on("Dec 2")), command) == ("stages.before", "when")


@pytest.mark.parametrize("who", ["Rufus Orme", "Sparrow Electric lead"])
def test_whoever_works_in_a_circuit_records_it_dead(who: str) -> None:
    assert pressed(WORLD, DEAD, who).activities["wire-the-slot"].circuit_dead == DEAD.when


def test_another_crew_records_no_circuit_dead() -> None:
    assert refused(WORLD, DEAD, "Ninepail Plaster lead")[0] == "rights.not_your_work"


def test_work_that_names_no_circuit_has_none_to_be_dead() -> None:
    command = replace(DEAD, activity_id="base-coat")
    assert refused(WORLD, command)[0] == "stages.no_circuit"


def test_a_circuit_is_not_recorded_dead_after_the_work_nor_ahead_of_time() -> None:
    done = WORLD.with_changed("Wire the slot", started=on("Dec 1"), finished=on("Dec 2"))
    assert refused(done, DEAD) == ("stages.dead_after_work", "when")
    assert refused(WORLD, replace(DEAD, when=on("Dec 4"))) == ("actuals.in_the_future", "when")
