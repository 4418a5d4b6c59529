"""A finished face, and dirty work beside or above it."""

from typing import Any

import pytest

from server.core.changes.actuals import AddTemporary
from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import CREW, OTHER, a_house, visit, with_temporary
from tests.worlds import World, on

RULE = "finished, then dirty"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
FACE = (
    a_house()
    .with_layer("Oak", finished=True)
    .with_task("Set the oak", crew=OTHER, puts_in="Oak", **DONE)
    .with_task("Sand the floor", crew=CREW, dirty=True, not_before=on("Dec 10"))
)
BOOKED = visit(FACE, "Sand the floor", "Dec 10")


def covered(world: World, kind: str = "cover", **fields: Any) -> World:
    return with_temporary(world, kind, "Board", **{"place_id": "stair", **fields})


def test_dirty_work_that_is_booked_beside_a_finished_face_is_lost_work() -> None:
    found = one(RULE, BOOKED)
    assert (found.bad, found.at, found.person_id) == ("lost work", on("Dec 10"), "rufus-orme")
    assert (found.layer_ids, found.activity_ids, found.place_ids) == (
        ("oak",),
        ("sand-the-floor",),
        ("stair",),
    )


def test_nobody_asked_and_far_off_it_is_no_warning() -> None:
    assert not of(RULE, FACE)


def test_within_its_crews_notice_or_under_way_it_is() -> None:
    assert not of(RULE, FACE, on("Dec 9 6:00"))
    assert one(RULE, FACE, on("Dec 9 7:00")).sentence.values["where"] == "Stair"
    assert one(RULE, FACE.with_changed("Sand the floor", started=on("Dec 3")))
    assert not of(
        RULE, FACE.with_changed("Sand the floor", started=on("Dec 2"), finished=on("Dec 3"))
    )


@pytest.mark.parametrize(
    ("facts", "fires"),
    [
        ({"dirty": True}, True),
        ({"wet": True}, True),
        ({"hot": True}, True),
        ({"hot": True, "fire_watch": True}, False),
        ({"heavy": True}, True),
        ({"shakes": True}, False),
        ({}, False),
    ],
)
def test_dirty_wet_hot_and_heavy_work_hurt_it(facts: dict[str, bool], fires: bool) -> None:
    world = BOOKED.with_changed("Sand the floor", **{"dirty": False, **facts})
    assert bool(of(RULE, world)) is fires


@pytest.mark.parametrize("fields", [{}, {"detail_id": "stair-wall", "place_id": None}])
def test_a_cover_over_it_is_enough(fields: dict[str, Any]) -> None:
    assert not of(RULE, covered(BOOKED, **fields))


@pytest.mark.parametrize(
    "fields",
    [
        {"kind": "deck"},
        {"place_id": "loft"},
        {"place_id": None},
        {"taken_out": on("Dec 3")},
        {"put_in": None},
    ],
    ids=["something else", "elsewhere", "nowhere", "out", "not in"],
)
def test_a_cover_that_is_not_over_it_is_none(fields: dict[str, Any]) -> None:
    assert one(RULE, covered(BOOKED, **fields))


def test_the_cover_of_another_detail_is_none() -> None:
    world = BOOKED.with_detail("Loft rail", place_id="loft")
    assert one(RULE, covered(world, detail_id="loft-rail"))


def test_work_above_it_falls_on_it_and_work_elsewhere_does_not() -> None:
    assert one(RULE, BOOKED.with_changed("Sand the floor", place_id="landing"))
    assert not of(RULE, BOOKED.with_changed("Sand the floor", place_id="loft"))


def test_work_above_what_is_above_it_falls_on_it_too() -> None:
    world = BOOKED.with_place("Attic", floor="upper floor", open_to=("landing",))
    assert one(RULE, world.with_changed("Sand the floor", place_id="attic"))


def test_work_below_it_does_not() -> None:
    world = BOOKED.with_changed("Set the oak", place_id="landing")
    assert not of(RULE, world)


def test_a_face_that_is_not_in_yet_or_not_finished_is_no_warning() -> None:
    assert not of(RULE, BOOKED.with_changed("Set the oak", finished=None))
    assert not of(RULE, BOOKED.with_changed("Oak", finished=False))
    assert not of(RULE, BOOKED.with_changed("Oak", ended=on("Dec 2")))


def test_a_face_of_which_some_is_in_counts() -> None:
    more = BOOKED.with_task("Set the rest", crew=OTHER, puts_in="Oak", started=on("Dec 3"))
    assert one(RULE, more)


def test_a_face_that_another_layer_hides_is_no_warning() -> None:
    assert not of(RULE, BOOKED.with_task("Panel over", covers="Oak", **DONE))


@pytest.mark.parametrize("verb", ["puts in", "covers", "opens"])
def test_what_is_done_to_the_face_itself_is_not_beside_it(verb: str) -> None:
    assert not of(RULE, BOOKED.with_effect("Sand the floor", verb, "Oak"))


def test_all_faces_of_a_place_and_all_work_there_are_one_note() -> None:
    world = (
        BOOKED.with_layer("Newel", finished=True)
        .with_task("Set the newel", crew=OTHER, puts_in="Newel", **DONE)
        .with_task("Saw", crew=CREW, dirty=True, started=on("Dec 3"))
    )
    found = one(RULE, world)
    assert set(found.layer_ids) == {"oak", "newel"}
    assert set(found.activity_ids) == {"sand-the-floor", "saw"}


def test_where_nobody_said_where_it_is_work_in_the_same_detail_counts() -> None:
    world = BOOKED.with_changed("Stair wall", place_id=None)
    assert one(RULE, world).subject == ("stair-wall",)
    other = world.with_detail("Other wall").with_task("Cut", crew=CREW, dirty=True, **DONE)
    assert not of(
        RULE,
        visit(
            other.with_changed("Cut", started=None, finished=None).with_changed(
                "Sand the floor", ended=on("Dec 2")
            ),
            "Cut",
            "Dec 10",
        ),
    )


@pytest.mark.parametrize("place", ["stair", None])
def test_putting_a_cover_in_mends_it(place: str | None) -> None:
    world = BOOKED.with_changed("Stair wall", place_id=place)
    found = one(RULE, world)
    ((cover,),) = commands(found)
    assert isinstance(cover, AddTemporary)
    assert (cover.kind, cover.place_id) == ("cover", place)
    assert all(RULE not in left for left in mended(world, found))


def test_one_cover_mends_all_of_a_place() -> None:
    world = (
        BOOKED.with_detail("Newels", place_id="stair")
        .with_layer("Newel", finished=True)
        .with_task("Set the newel", crew=OTHER, puts_in="Newel", **DONE)
    )
    assert all(RULE not in left for left in mended(world, one(RULE, world)))


def test_its_identity_changes_with_the_work_and_not_with_the_clock() -> None:
    assert one(RULE, BOOKED).identity == one(RULE, BOOKED, on("Dec 4")).identity
    moved = visit(FACE, "Sand the floor", "Dec 11")
    assert one(RULE, BOOKED).identity != one(RULE, moved).identity
    assert one(RULE, BOOKED).subject == one(RULE, moved).subject
