"""A pattern's file, read; a wrong one names its line and field."""

from fractions import Fraction

import pytest

from server.data.patterns import read_pattern
from server.data.tables import BadFile

GOOD = """\
id = "small"
name = "Small one"
about = "One layer."
source = "Common practice, from memory."

[[side]]
name = "Front"

[[side.layer]]
key = "board"
name = "Board"
material = "board"
thickness = "1 1/8"
part_name = "Sheet"
parts = 3

[[chain]]
key = "hang"
kind = "task"
name = "Hang"
who = "board"
takes = "1 1/4 d"
range = "1 to 1 1/2 d"
puts_in = [{ layer = "board", parts = [1, 2] }]

[[chain]]
key = "dries"
kind = "wait"
name = "Dries"
takes = "2 days"
after = [{ before = "hang", type = "SS", wait = "3 h", within = "1 wk" }]

[[chain]]
key = "look"
kind = "hold"
name = "Look"
after = ["dries"]
[chain.check]
what = "The board"
notice = "24 h"
parts = 3
asks = [
  { label = "Off", each = true, nominal = "0", within = "1/16", ask_beyond = "1/8" },
  { label = "Fast", unit = "yes" },
]
"""


def test_working_days_have_eight_hours_and_days_of_a_wait_twenty_four() -> None:
    hang, dries, _ = read_pattern(GOOD, "small.toml").chain
    assert (hang.low, hang.work, hang.high) == (480, 600, 720)
    assert dries.work == 2 * 1440


def test_lengths_are_exact() -> None:
    assert read_pattern(GOOD, "small.toml").layers[0].thickness == Fraction(9, 8)


def test_what_an_activity_comes_after_may_be_said_in_full() -> None:
    (after,) = read_pattern(GOOD, "small.toml").chain[1].after
    assert (after.before, after.type, after.lag, after.most) == ("hang", "SS", 180, 7 * 1440)


def test_tolerances_lie_around_the_nominal() -> None:
    check = read_pattern(GOOD, "small.toml").chain[2].check
    assert check is not None
    off, fast = check.asks
    assert (off.low, off.high) == (Fraction(-1, 16), Fraction(1, 16))
    assert (off.far_low, off.far_high) == (Fraction(-1, 8), Fraction(1, 8))
    assert (fast.low, fast.high) == (None, None)


def test_a_task_may_do_something_to_some_parts_only() -> None:
    assert read_pattern(GOOD, "small.toml").chain[0].puts_in == {"board": (1, 2)}


@pytest.mark.parametrize(
    ("right", "wrong", "line", "field"),
    [
        ('about = "One layer."\n', "", 1, "about"),
        ('thickness = "1 1/8"', 'thickness = "thick"', 13, "thickness"),
        ("parts = 3\n\n", 'parts = "three"\n\n', 15, "parts"),
        ("parts = 3\n\n", "parts = true\n\n", 15, "parts"),
        ("parts = 3\n\n", "parts = -3\n\n", 15, "parts"),
        ('kind = "task"', 'kind = "job"', 19, "kind"),
        ('name = "Hang"', 'name = ""', 20, "name"),
        ('takes = "1 1/4 d"', 'takes = "a while"', 22, "takes"),
        ('takes = "1 1/4 d"', 'takes = "2 d"', 23, "range"),
        ('takes = "1 1/4 d"\nrange = "1 to 1 1/2 d"\n', "", 17, "takes"),
        ('who = "board"', 'hoo = "board"', 21, "hoo"),
        ('layer = "board"', 'layer = "bored"', 24, "puts_in"),
        ("parts = [1, 2]", "parts = [1, 4]", 24, "puts_in"),
        ('before = "hang"', 'before = "hung"', 31, "after"),
        ('type = "SS"', 'type = "XX"', 31, "after"),
        ('after = ["dries"]', 'after = ["dried"]', 37, "after"),
        ('nominal = "0", ', "", 43, "within"),
        ('unit = "yes"', 'unit = "cubits"', 42, "asks"),
        ('key = "dries"', 'key = "hang"', 18, "key"),
        ('who = "board"', 'stuff = "mud"', 21, "stuff"),
        ('who = "board"', "fire_watch = true", 21, "fire_watch"),
        ('who = "board"', "review = '2 days'", 21, "review"),
        ('who = "board"', 'sample = "dries"', 21, "sample"),
        ('who = "board"', 'needs_open = ["bored"]', 21, "needs_open"),
        ('who = "board"', 'needs_open = ["board"]', 21, "needs_open"),
        ('name = "Hang"', 'name = "Hang', 20, "the file"),
    ],
)
def test_a_wrong_file_names_its_line_and_field(
    right: str, wrong: str, line: int, field: str
) -> None:
    assert right in GOOD
    with pytest.raises(BadFile) as refused:
        read_pattern(GOOD.replace(right, wrong, 1), "small.toml")
    found = refused.value
    assert (found.file, found.line, found.field) == ("small.toml", line, field)


def test_a_check_without_what_it_looks_at_is_refused() -> None:
    with pytest.raises(BadFile, match="kind hold"):
        read_pattern(GOOD.replace('kind = "hold"', 'kind = "decision"'), "small.toml")


def test_a_ring_is_refused_by_its_names() -> None:
    ring = GOOD.replace('who = "board"', 'who = "board"\nafter = ["look"]')
    with pytest.raises(BadFile, match="a ring: "):
        read_pattern(ring, "small.toml")
