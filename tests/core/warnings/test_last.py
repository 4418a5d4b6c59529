"""The last moment to reach a place, bring a piece in, try a circuit, inspect, have shores out."""

import pytest

from server.core.world import TemporaryWork
from tests.core.cover.test_order import FRAMED, boarded
from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import PROJECT, World, a_project, on

REACH, WAY_IN, POWER = "last reach passed", "last way in passed", "last power-up passed"
ROUGH, SHORES = "insulated before the rough inspection", "shores still in"
STANDS = {"temporary": "stands on", "temporary_id": "tower"}
STRIKES = {"temporary": "strikes", "temporary_id": "tower"}


def temporary(world: World, id: str, kind: str, **fields: str) -> World:
    return world.put(
        TemporaryWork(id=id, project_id=PROJECT, kind=kind, name=id, put_in=on("Dec 1"), **fields)  # type: ignore[arg-type]
    )


WELL = temporary(a_project().with_detail("Light well"), "tower", "scaffold")


def struck(after: tuple[str, ...] = ()) -> World:
    return WELL.with_task("Lamps", **STANDS).with_task("Strike", after=after, **STRIKES)


def test_a_tower_that_is_struck_before_what_stands_on_it_is_told_and_put_in_order() -> None:
    found = one(REACH, struck())
    assert (found.bad, found.subject) == ("lost work", ("lamps", "strike"))
    assert REACH not in mended(struck(), found)[0]


def test_a_tower_that_is_struck_after_it_is_no_note() -> None:
    assert not of(REACH, struck(after=("Lamps",)))


def test_a_tower_that_is_down_while_work_on_it_is_open_stays_told() -> None:
    down = struck().with_changed("Strike", started=on("Dec 2"), finished=on("Dec 2 12:00"))
    assert one(REACH, down).mends == ()


def test_what_is_done_needs_no_reach() -> None:
    assert not of(REACH, struck().with_changed("Lamps", started=on("Dec 2"), finished=NOW))


HALL = a_project().with_way("Window opening").with_detail("Main flight")


@pytest.mark.parametrize(("after", "told"), [((), True), (("Handrail comes",), False)])
def test_a_way_that_closes_before_a_long_piece_is_in(after: tuple[str, ...], told: bool) -> None:
    world = HALL.with_delivery("Handrail comes", way_in_id="window-opening")
    world = world.with_task("Window in", after=after, closes_way_id="window-opening")
    assert bool(of(WAY_IN, world)) == told
    if told:
        assert WAY_IN not in mended(world, one(WAY_IN, world))[0]


def powered() -> World:
    world = boarded(FRAMED, after=("Frame", "Run wire")).with_effect("Hang board", "covers", "Wire")
    return world.with_changed("Wire", powered=True, must_be_seen=False)


def test_a_circuit_that_nothing_tries_before_it_is_covered_gets_a_look() -> None:
    found = one(POWER, powered())
    assert found.layer_ids == ("wire",)
    assert POWER not in mended(powered(), found)[0]


def test_a_circuit_that_is_tried_first_is_no_note() -> None:
    world = powered().with_task("Try it").with_effect("Try it", "needs open", "Wire")
    assert not of(POWER, world)


def test_one_that_must_be_seen_is_told_once() -> None:
    world = powered().with_changed("Wire", must_be_seen=True)
    assert not of(POWER, world)
    assert of("nobody looks", world)


def insulated(after: tuple[str, ...]) -> World:
    world = FRAMED.with_layer("Batts", "batts", within_id="studs")
    world = world.with_check("Rough", after="Run wire", layers="Wire", authority=True)
    return world.with_task("Insulate", puts_in="Batts", after=after)


def test_batts_ahead_of_an_outside_look_at_the_same_bays_are_told() -> None:
    found = one(ROUGH, insulated(("Frame",)))
    assert found.subject == ("rough", "insulate")
    assert ROUGH not in mended(insulated(("Frame",)), found)[0]


def test_batts_after_it_are_no_note_nor_is_a_look_of_our_own() -> None:
    assert not of(ROUGH, insulated(("Rough",)))
    own = insulated(("Frame",)).with_changed("Rough-check", authority=False)
    assert not of(ROUGH, own)


def shored(after: tuple[str, ...]) -> World:
    stair = a_project().with_detail("Main flight").with_layer("Stringers").with_layer("Board")
    held = temporary(stair, "shores", "shore", detail_id="main-flight")
    held = held.with_task("Shores out", temporary="strikes", temporary_id="shores")
    return held.with_task("Soffit board", covers="Stringers", after=after)


def test_what_is_closed_while_it_is_shored_is_told() -> None:
    found = one(SHORES, shored(()))
    assert found.subject == ("shores-out", "soffit-board")
    assert SHORES not in mended(shored(()), found)[0]


def test_what_is_closed_when_the_shores_are_out_is_no_note() -> None:
    assert not of(SHORES, shored(("Shores out",)))
