"""A pattern as the text of its file: read again it is the same, and people can read it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings

from server.core.changes import change
from server.core.changes.plan import AddDetailFromPattern
from server.core.pattern_of import taken_of
from server.core.patterns import Pattern
from server.core.world.network import forecast
from server.data.pattern_reading import read_pattern
from server.data.pattern_writing import pattern_text, renamed
from server.data.patterns import all_patterns, pattern, text_of
from tests.data.random_patterns import patterns
from tests.data.test_reading_patterns import GOOD
from tests.store.random_houses import a_random_house
from tests.worlds import a_project, actor, on

each = pytest.mark.parametrize("one", all_patterns(), ids=lambda p: p.id)


@each
def test_every_pattern_that_ships_is_the_same_when_read_again(one: Pattern) -> None:
    assert read_pattern(pattern_text(one), "again.toml") == one


@given(patterns())
@settings(max_examples=150, deadline=None)
def test_any_pattern_is_the_same_when_read_again(one: Pattern) -> None:
    assert read_pattern(pattern_text(one), "again.toml") == one


@given(patterns())
@settings(max_examples=60, deadline=None)
def test_any_pattern_makes_a_detail_with_dates_that_is_a_pattern_again(one: Pattern) -> None:
    house = a_project().snapshot()
    command = AddDetailFromPattern(id="d9", name="New", sheet="D9", content=one)
    made = change(house, actor(house), command, on("Dec 1")).after
    schedule = forecast(made, on("Dec 1"))
    assert all(schedule[a.id].early_finish for a in made.chain_of("d9"))
    again = taken_of(made, "d9", id="own", name="Own", about="Ours.", source="Ours.").pattern
    assert read_pattern(pattern_text(again), "own.toml") == again


@pytest.mark.parametrize("seed", range(12))
def test_a_detail_of_any_house_can_be_written_and_read(seed: int) -> None:
    house = a_random_house(seed)
    for id in house.details:
        one = taken_of(house, id, id="own", name="Own", about="Ours.", source="Ours.").pattern
        assert read_pattern(pattern_text(one), "own.toml") == one


@each
def test_times_and_numbers_stand_as_in_the_files_that_ship(one: Pattern) -> None:
    def said(text: str) -> list[str]:
        starts = ("takes", "range", "review", "thickness", "notice", "  { label")
        return sorted(line for line in text.splitlines() if line.startswith(starts))

    ours, shipped = said(pattern_text(one)), said(text_of(one.id))
    same = sum(line in shipped for line in ours)
    assert same >= 0.85 * len(ours), [line for line in ours if line not in shipped]


def test_the_text_of_a_pattern_that_ships_is_its_file() -> None:
    assert text_of("wall-rail").startswith("# A wall rail")
    with pytest.raises(LookupError):
        text_of("../trades")


def test_the_companys_own_numbers_are_said_once_at_the_head() -> None:
    own = read_pattern(GOOD.replace('id = "small"', 'id = "small"\ntag = "own"'), "own.toml")
    assert {layer.tag for layer in own.layers} | {a.tag for a in own.chain} == {""}
    assert pattern_text(own).count('tag = "own"') == 1


def test_a_wait_may_run_backward() -> None:
    one = read_pattern(GOOD.replace('wait = "3 h"', 'wait = "-3 h"'), "small.toml")
    assert one.chain[1].after[0].lag == -180
    assert 'wait = "-3 h"' in pattern_text(one)


def test_limits_that_do_not_lie_around_the_nominal_are_written_out() -> None:
    rail = pattern("wall-rail")
    check = next(a.check for a in rail.chain if a.check and a.check.asks[0].nominal is not None)
    ask = replace(check.asks[0], low=Fraction(71, 2), high=Fraction(145, 4))
    chain = tuple(
        replace(a, check=replace(check, asks=(ask,))) if a.check == check else a for a in rail.chain
    )
    assert 'low = "35 1/2", high = "36 1/4"' in pattern_text(replace(rail, chain=chain))


def test_another_name_leaves_the_rest_of_a_file_as_it_was_written() -> None:
    text = "# Ours.\n" + GOOD
    again = renamed(text, 'Small "two"')
    assert again == text.replace('name = "Small one"', 'name = "Small \\"two\\""')
    assert read_pattern(again, "small.toml").name == 'Small "two"'


def test_a_name_written_in_a_way_of_its_own_is_changed_too() -> None:
    text = GOOD.replace('name = "Small one"', '"name" = """Small one"""')
    assert read_pattern(renamed(text, "Two"), "small.toml").name == "Two"
