"""Order that nobody drew, order drawn the wrong way round, what nobody looks at."""

from tests.core.cover.test_order import FRAMED, boarded
from tests.core.warnings.finding import mended, of, one

UNDRAWN, CONTRADICTED, NOBODY = "undrawn order", "contradicted order", "nobody looks"


def test_a_cover_without_what_it_hides_is_undrawn_and_one_press_draws_it() -> None:
    world = boarded(FRAMED, after="Frame")
    found = one(UNDRAWN, world)
    assert (found.bad, found.activity_ids) == ("lost work", ("hang-board", "run-wire"))
    assert UNDRAWN not in mended(world, found)[0]


def test_of_what_follows_anyway_only_the_last_is_told() -> None:
    world = boarded(FRAMED.with_dependency("Frame", "Run wire"))
    assert one(UNDRAWN, world).subject == ("run-wire", "hang-board")


def test_a_cover_that_the_chain_puts_after_it_is_no_note() -> None:
    assert not of(UNDRAWN, boarded(FRAMED, after=("Frame", "Run wire")))


def test_the_opposite_order_is_told_and_turned_round() -> None:
    world = boarded(FRAMED, after="Frame").with_dependency("Hang board", "Run wire")
    found = one(CONTRADICTED, world)
    (left,) = mended(world, found)
    assert CONTRADICTED not in left
    assert UNDRAWN not in left


def test_two_ways_that_contradict_are_not_mended_by_one_press() -> None:
    world = boarded(FRAMED, after="Frame").with_task("Pull tape", after="Hang board")
    world = world.with_dependency("Hang board", "Run wire")
    assert not one(CONTRADICTED, world.with_dependency("Pull tape", "Run wire")).mends


def test_what_must_be_seen_and_is_not_looked_at_gets_a_look() -> None:
    world = boarded(FRAMED, after=("Frame", "Run wire")).with_effect("Hang board", "covers", "Wire")
    found = one(NOBODY, world)
    assert found.layer_ids == ("wire",)
    (left,) = mended(world, found)
    assert NOBODY not in left
    assert UNDRAWN not in left


def test_what_need_not_be_seen_is_no_note() -> None:
    assert not of(NOBODY, boarded(FRAMED, after=("Frame", "Run wire")))
