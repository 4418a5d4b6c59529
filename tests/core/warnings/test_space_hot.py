"""Hot work near what minds sparks; work at a circuit that is not dead."""

from typing import Any

import pytest

from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import World, a_project, on

HOT, LIVE = "hot work", "live circuit"
CREW, OTHER = "Ore Street Metal", "Ninepail Plaster"
DONE: dict[str, Any] = {"started": on("Dec 1"), "finished": on("Dec 2")}
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_place("Main flight")
    .with_detail("Main stair", place_id="main-flight")
    .with_layer("Batts", material="batt")
    .with_layer("Board", material="board")
    .with_task("Fill the bays", puts_in="Batts", **DONE)
    .with_task("Weld the hangers", crew=CREW, after="Fill the bays", hot=True)
)
ASKED = WORLD.with_booking(CREW, "Weld the hangers", on("Dec 4"), on("Dec 4 15:30"))

# -- hot work ---------------------------------------------------------------------------------


def test_sparks_near_batts_without_a_fire_watch_are_a_danger() -> None:
    found = one(HOT, ASKED)
    assert (found.bad, found.at, found.layer_ids) == ("danger", on("Dec 4"), ("batts",))


@pytest.mark.parametrize("material", ["glass", "zinc sheet", "mineral batt", "rigid foam"])
def test_glass_zinc_and_foam_mind_sparks_too(material: str) -> None:
    assert of(HOT, ASKED.with_changed("Batts", material=material))


@pytest.mark.parametrize("material", ["wood", "steel", "glasswort"])
def test_other_layers_do_not(material: str) -> None:
    assert not of(HOT, ASKED.with_changed("Batts", material=material))


def test_a_fire_watch_is_enough() -> None:
    assert not of(HOT, ASKED.with_changed("Weld the hangers", fire_watch=True))


def test_cold_work_throws_no_sparks() -> None:
    assert not of(HOT, ASKED.with_changed("Weld the hangers", hot=False))


def test_it_is_told_when_it_is_asked_for_or_under_way() -> None:
    assert not of(HOT, WORLD)
    assert of(HOT, WORLD.with_changed("Weld the hangers", started=on("Dec 3")))
    assert not of(HOT, WORLD.with_changed("Weld the hangers", **DONE))


def test_what_is_not_in_yet_is_not_near_unless_it_goes_in_first() -> None:
    ahead = ASKED.with_changed("Fill the bays", started=None, finished=None)
    assert of(HOT, ahead)
    free = ASKED.with_task("Blow in", puts_in="Board").with_changed("Board", material="batt")
    assert one(HOT, free).layer_ids == ("batts",)


def test_what_is_covered_or_will_be_by_then_is_not_near() -> None:
    hung = ASKED.with_task("Hang board", covers="Batts", **DONE)
    assert not of(HOT, hung)
    first = ASKED.with_task("Hang board", covers="Batts").with_dependency(
        "Hang board", "Weld the hangers"
    )
    assert not of(HOT, first)
    assert of(HOT, ASKED.with_task("Hang board", covers="Batts", after="Weld the hangers"))


def test_what_the_work_puts_in_itself_is_not_near_it() -> None:
    world = ASKED.with_changed("Batts", material="board").with_layer("Cap", material="zinc")
    soldered = world.with_effect("Weld the hangers", "puts in", "Cap")
    assert not of(HOT, soldered.with_changed("Weld the hangers", started=NOW))


def finished(place: str | None) -> World:
    return (
        ASKED.with_changed("Batts", material="board")
        .with_place("Upper landing")
        .with_detail("Wall rail", place_id=place)
        .with_layer("Finish coat", material="plaster", finished=True)
        .with_task("Trowel", puts_in="Finish coat", **DONE)
    )


def test_a_finished_face_in_the_same_place_minds_sparks() -> None:
    assert one(HOT, finished("main-flight")).layer_ids == ("finish-coat",)
    assert not of(HOT, finished("upper-landing"))


def test_batts_of_another_detail_are_not_near() -> None:
    world = finished("main-flight").with_changed("Finish coat", finished=False, material="batt")
    assert not of(HOT, world)


def test_a_fire_watch_mends_it() -> None:
    found = one(HOT, ASKED)
    assert [HOT in left for left in mended(ASKED, found)] == [False]


# -- live circuit -----------------------------------------------------------------------------

OPENED = WORLD.with_changed("Weld the hangers", hot=False, circuit="B7")
TOMORROW = OPENED.with_booking(CREW, "Weld the hangers", on("Dec 4"), on("Dec 4 15:30"))


def test_work_at_a_circuit_that_is_not_recorded_dead_is_a_danger() -> None:
    found = one(LIVE, TOMORROW)
    assert (found.bad, found.at, found.sentence.id) == (
        "danger",
        on("Dec 4"),
        "warning.live_circuit.said",
    )


def test_work_under_way_is_too() -> None:
    begun = OPENED.with_changed("Weld the hangers", started=on("Dec 3"))
    assert one(LIVE, begun).sentence.id == "warning.live_circuit.begun"


@pytest.mark.parametrize(
    "fields", [{"circuit": ""}, {"circuit_dead": NOW}], ids=["no circuit", "dead"]
)
def test_without_a_live_circuit_there_is_none(fields: dict[str, Any]) -> None:
    assert not of(LIVE, TOMORROW.with_changed("Weld the hangers", **fields))


def test_it_is_told_from_the_day_before_on() -> None:
    later = OPENED.with_booking(CREW, "Weld the hangers", on("Dec 5"), on("Dec 5 15:30"))
    assert not of(LIVE, later)
    assert of(LIVE, later, on("Dec 4 8:00"))


def test_work_that_is_done_or_that_nobody_comes_for_is_none() -> None:
    assert not of(LIVE, OPENED)
    assert not of(LIVE, OPENED.with_changed("Weld the hangers", **DONE))


def test_work_without_a_place_is_as_dangerous() -> None:
    assert of(LIVE, TOMORROW.with_changed("Main stair", place_id=None))


def test_recording_it_dead_mends_it() -> None:
    found = one(LIVE, TOMORROW)
    assert [LIVE in left for left in mended(TOMORROW, found)] == [False]
