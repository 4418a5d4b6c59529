"""Shaken after plaster."""

import pytest

from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import CREW, OTHER, a_house, visit
from tests.worlds import on

RULE = "shaken after plaster"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
WALL = (
    a_house()
    .with_layer("Lath", material="lath")
    .with_layer("Finish", material="lime plaster")
    .with_task("Finish coat", crew=CREW, puts_in="Finish", **DONE)
    .with_task("Nail the base", crew=OTHER, shakes=True, not_before=on("Dec 10"))
)
BOOKED = visit(WALL, "Nail the base", "Dec 10", OTHER)


def test_nailing_that_is_booked_after_the_plaster_is_in_is_lost_work() -> None:
    found = one(RULE, BOOKED)
    assert (found.bad, found.at, found.crew_id) == ("lost work", on("Dec 10"), "hobnail-millwork")
    assert (found.activity_ids, found.layer_ids) == (("nail-the-base",), ("finish",))


def test_far_off_with_nobody_asked_it_is_no_warning() -> None:
    assert not of(RULE, WALL)
    assert one(RULE, WALL, on("Dec 9 7:00"))


def test_under_way_it_is_told_and_done_it_is_history() -> None:
    assert one(RULE, WALL.with_changed("Nail the base", started=on("Dec 3")))
    assert not of(
        RULE, WALL.with_changed("Nail the base", started=on("Dec 2"), finished=on("Dec 3"))
    )


@pytest.mark.parametrize(
    ("facts", "fires"),
    [
        ({"shakes": True}, True),
        ({"heavy": True}, True),
        ({"dirty": True, "wet": True}, False),
    ],
)
def test_shaking_and_heavy_loads_hurt_it(facts: dict[str, bool], fires: bool) -> None:
    world = BOOKED.with_changed("Nail the base", **{"shakes": False, **facts})
    assert bool(of(RULE, world)) is fires


@pytest.mark.parametrize(
    ("material", "fires"),
    [("plaster", True), ("Lime wash", True), ("gypsum plaster", True), ("limestone", False)],
)
def test_only_plaster_and_lime_crack(material: str, fires: bool) -> None:
    assert bool(of(RULE, BOOKED.with_changed("Finish", material=material))) is fires


def test_plaster_that_is_not_in_yet_does_not_crack() -> None:
    assert not of(RULE, BOOKED.with_changed("Finish coat", finished=None))
    assert not of(RULE, BOOKED.with_changed("Finish", ended=on("Dec 2")))


def test_a_coat_under_the_next_cracks_too() -> None:
    world = BOOKED.with_layer("Wash", material="paint").with_task("Wash it", covers="Finish")
    assert one(RULE, world.with_changed("Wash it", **DONE))


def test_the_coat_that_is_seen_is_named() -> None:
    world = (
        BOOKED.with_layer("Base", material="plaster")
        .with_task("Base coat", puts_in="Base", **DONE)
        .with_effect("Finish coat", "covers", "Base")
    )
    found = one(RULE, world)
    assert found.sentence.values["coats"] == ("Finish",)
    assert set(found.layer_ids) == {"base", "finish"}


@pytest.mark.parametrize(("place", "fires"), [("stair", True), ("loft", False), (None, False)])
def test_work_of_another_detail_counts_in_the_same_place(place: str | None, fires: bool) -> None:
    world = WALL.with_detail("Rail", place_id=place).with_task("Cut in", crew=OTHER, shakes=True)
    assert bool(of(RULE, visit(world, "Cut in", "Dec 10", OTHER))) is fires


def test_work_of_the_same_detail_counts_in_another_place_but_not_off_site() -> None:
    assert one(RULE, BOOKED.with_changed("Nail the base", place_id="landing"))
    assert not of(RULE, BOOKED.with_changed("Stair wall", pattern="wall-rail"))


@pytest.mark.parametrize("verb", ["puts in", "covers", "opens"])
def test_what_is_done_to_the_plaster_itself_does_not_shake_it(verb: str) -> None:
    assert not of(RULE, BOOKED.with_effect("Nail the base", verb, "Finish"))


def test_what_the_plan_puts_after_the_plaster_all_the_same_is_watched() -> None:
    found = one(RULE, BOOKED.with_dependency("Finish coat", "Nail the base"))
    assert (found.bad, found.sentence.id) == ("watch", "warning.shaken_after_plaster.planned")


def test_screwing_it_instead_mends_it() -> None:
    found = one(RULE, BOOKED)
    assert len(commands(found)) == 1
    assert all(RULE not in left for left in mended(BOOKED, found))


def test_a_heavy_load_has_no_other_way() -> None:
    assert one(RULE, BOOKED.with_changed("Nail the base", heavy=True)).mends == ()


def test_its_identity_changes_with_the_visit_and_not_with_the_clock() -> None:
    assert one(RULE, BOOKED).identity == one(RULE, BOOKED, on("Dec 4")).identity
    moved = visit(WALL, "Nail the base", "Dec 11", OTHER)
    assert one(RULE, BOOKED).identity != one(RULE, moved).identity
    assert one(RULE, BOOKED).subject == one(RULE, moved).subject
