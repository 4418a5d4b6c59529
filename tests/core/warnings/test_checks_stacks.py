"""A kept stack that is to leave its range by what released checks have measured."""

from dataclasses import replace
from fractions import Fraction

from server.core.warnings import Warning
from server.words import say
from tests.core.test_stacks import FIGURE, TREAD, WALLS, WORLD, looked_at
from tests.core.warnings.finding import of, one
from tests.worlds import World, on

OUT = "out of tolerance"
WIDE = looked_at(WORLD, "released", "40.0625", "40.375")


def said(world: World) -> str:
    return say(one(OUT, world).sentence)


def test_a_gap_that_is_as_planned_is_none() -> None:
    assert not of(OUT, WORLD)
    assert not of(OUT, looked_at(WORLD, "released", "40.125", "39.9375"))


def test_a_gap_that_is_to_leave_its_range_is_lost_work_and_names_where() -> None:
    found: Warning = one(OUT, WIDE)
    assert (found.bad, found.subject, found.detail_id) == ("lost work", ("gap",), "main-stair")
    assert "at tread 2" in said(WIDE)
    assert "a gap of 5/8 in, at worst 19/32 in to 21/32 in" in said(WIDE)
    assert "wanted 1/16 in to 1/2 in" in said(WIDE)


def test_what_is_not_measured_yet_can_put_it_right() -> None:
    assert "hold Tread to 39 7/8 in to 40 5/16 in" in said(WIDE)


def test_where_nothing_is_left_to_measure_somebody_decides() -> None:
    made = WIDE.put(replace(TREAD, measured=Fraction("39.75")))
    assert "Rufus Orme decides" in said(made)
    assert "hold" not in said(made)


def test_a_part_beyond_its_tolerance_tells_although_the_gap_stands_within() -> None:
    tight = WORLD.put(replace(FIGURE, least=Fraction(3, 32)))
    assert not of(OUT, tight)
    assert "at worst 1/16 in to 1/8 in" in said(looked_at(tight, "released", "39.84375", "40"))


def test_a_stack_that_its_drawing_cannot_keep_says_so_on_its_page_alone() -> None:
    assert not of(OUT, WORLD.put(replace(FIGURE, most=Fraction(3, 8))))


def test_one_open_end_is_said() -> None:
    least = WIDE.put(replace(FIGURE, least=Fraction(3, 4), most=None))
    assert "wanted at least 3/4 in" in said(least)
    assert "hold Tread to at most 39 5/16 in" in said(least)
    most = WIDE.put(replace(FIGURE, least=None))
    assert "wanted at most 1/2 in" in said(most)
    assert "hold Tread to at least 39 7/8 in" in said(most)


def test_parts_in_a_row_are_said_together_and_the_two_easiest_ways_are_named() -> None:
    treads = WORLD.with_changed("walls-check", parts=7)
    for part in (3, 4, 5, 7):
        treads = treads.with_ask("Wall to wall", part=part)
    board = replace(TREAD, id="gapc", order=2, name="Board", nominal=Fraction(1, 2))
    shim = replace(TREAD, id="gapd", order=3, name="Shim", nominal=Fraction(1, 8))
    stack = treads.put(
        replace(WALLS, nominal=Fraction("40.625")), board, shim, replace(FIGURE, most=1)
    )
    asks = stack.snapshot().asks_of["walls-check"]
    values = ["41" if ask.part in (1, 3, 4, 5, 7) else "40.625" for ask in asks]
    out = said(looked_at(stack, "released", *values).put(replace(FIGURE, most=Fraction(1, 2))))
    assert "at tread 1, tread 3 to 5 and tread 7." in out
    assert "hold Tread to" in out
    assert "or Board to" in out
    assert "Shim" not in out


def test_it_is_said_in_the_units_it_was_written_in() -> None:
    assert "a gap of 15.9 mm" in said(WIDE.put(replace(FIGURE, units="mm")))


def test_without_parts_of_a_check_it_names_none() -> None:
    alone = WORLD.put(replace(WALLS, hold_id=None, label="", measured=Fraction("40.375")))
    assert "Tread gap” is to leave its range: a gap of 5/8 in" in said(alone)


def test_it_bites_at_the_check_that_is_still_to_measure() -> None:
    made = (
        WIDE.with_check("Treads", after="Walls", part_name="tread", parts=2)
        .with_changed("treads", not_before=on("Dec 8"))
        .with_ask("Length", part=1)
        .put(replace(TREAD, hold_id="treads-check", label="Length"))
    )
    found = one(OUT, made)
    assert found.at == on("Dec 8")
    assert found.activity_ids == ("treads",)


def test_the_way_to_the_figure_is_what_there_is_to_press() -> None:
    assert [m.goto_figure_id for m in one(OUT, WIDE).mends] == ["gap"]


def test_what_was_accepted_comes_back_with_other_numbers() -> None:
    worse = looked_at(WIDE, "released", "40.0625", "40.5")
    assert one(OUT, WIDE).identity != one(OUT, worse).identity


def test_a_figure_that_is_not_kept_any_more_tells_nothing() -> None:
    assert not of(OUT, WIDE.put(replace(FIGURE, ended=on("Dec 2"))))


def test_checks_that_have_come_to_count_different_parts_are_left_to_the_page() -> None:
    mixed = (
        WIDE.with_check("Studs", part_name="stud", parts=1)
        .with_ask("Length", part=1)
        .put(replace(TREAD, hold_id="studs-check", label="Length"))
    )
    assert not of(OUT, mixed)
