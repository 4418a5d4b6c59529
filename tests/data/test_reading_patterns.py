"""A pattern's file, read; a wrong one names its line and field."""

from fractions import Fraction

import pytest

from server.data.pattern_reading import read_pattern
from server.data.pattern_tables import text_of_file
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
        ('type = "SS"', 'type = "XX"', 31, "type"),
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
        ('thickness = "1 1/8"', 'thickness = "5/0"', 13, "thickness"),
        ('thickness = "1 1/8"', 'thickness = "1,5"', 13, "thickness"),
        ('thickness = "1 1/8"', 'thickness = "-1"', 13, "thickness"),
        ('thickness = "1 1/8"', 'thickness = "914"', 13, "thickness"),
        ('thickness = "1 1/8"', "thickness = 1.125", 13, "thickness"),
        ("parts = 3\n\n", "parts = 1_000_000\n\n", 15, "parts"),
        ('takes = "1 1/4 d"', 'takes = "900 wk"', 22, "takes"),
        ('takes = "2 days"', 'takes = "0 h"', 30, "takes"),
        ('takes = "2 days"', 'takes = "2 days"\nwho = "board"', 31, "who"),
        ('takes = "2 days"', 'takes = "2 days"\ncovers = ["board"]', 31, "covers"),
        ('who = "board"', 'who = "board"\nalong = ["board"]', 22, "along"),
        ('who = "board"', 'edge = "left"', 21, "edge"),
        ('who = "board"', 'note = "a\\u0000b"', 21, "note"),
        ('name = "Hang"', f'name = "{"x" * 121}"', 20, "name"),
        ('key = "dries"', 'key = "board"', 10, "key"),
        ('name = "Front"\n', 'name = "Front"\n[[side]]\nname = "FRONT"\n', 7, "name"),
        ("parts = [1, 2]", 'parts = ["1"]', 24, "puts_in"),
        ("parts = [1, 2]", "parts = [true]", 24, "puts_in"),
        ("parts = [1, 2]", "parts = [1, 1]", 24, "puts_in"),
        ("parts = [1, 2] }", 'parts = [1, 2] }, "board"', 24, "puts_in"),
        ('wait = "3 h"', 'wait = "3 hours"', 31, "wait"),
        ('wait = "3 h"', 'wait = "200 h"', 31, "after"),
        ('after = ["dries"]', 'after = ["dries", "dries"]', 37, "after"),
        ('after = ["dries"]', "after = [3]", 37, "after"),
        ('unit = "yes"', 'unit = "yes", low = "1"', 42, "asks"),
        ('unit = "yes"', 'low = "2", high = "1"', 42, "asks"),
        ('unit = "yes"', "part = 4", 42, "asks"),
        ("parts = 3\nasks", "asks", 41, "asks"),
        ('[[chain]]\nkey = "look"', '[chain]\nkey = "look"', 33, "the file"),
        ("[[side]]\n", "[side]\n", 6, "side"),
        ("[[side]]", '["side"]', 6, "side"),
        ('id = "small"', 'id = "small"\ntag = "X"', 2, "tag"),
        ('id = "small"', 'id = "small"\na.b.c.d.e.f = 1', 2, "the file"),
        ('id = "small"', f"id = {'[' * 3000}", 1, "the file"),
        ('id = "small"', f"id = {'9' * 5000}", 1, "the file"),
        ('id = "small"', f'id = "{"x" * 300_000}"', 1, "the file"),
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


def test_a_file_in_another_writing_is_refused_at_the_byte() -> None:
    with pytest.raises(BadFile, match="line 2, byte 11: is not UTF-8"):
        text_of_file('id = "a"\nname = "Grö"'.encode("latin-1"), "old.toml")


def test_what_is_no_toml_at_all_is_refused_in_its_first_line() -> None:
    with pytest.raises(BadFile, match="line 1, the file: is no TOML"):
        read_pattern("Dear all, please find attached", "letter.toml")


@pytest.mark.parametrize(
    ("right", "wrong"),
    [("[[chain]]", "[[ chain ]]  # tasks"), ('key = "dries"', "key='dries' # the wait")],
)
def test_a_line_is_found_however_the_file_is_spaced(right: str, wrong: str) -> None:
    text = GOOD.replace(right, wrong).replace('before = "hang"', 'before = "hung"')
    with pytest.raises(BadFile) as refused:
        read_pattern(text, "small.toml")
    assert (refused.value.line, refused.value.field) == (31, "after")


def test_an_activity_written_in_one_line_is_not_lost_but_refused() -> None:
    head = GOOD.partition("[[chain]]")[0].partition("[[side]]")[0]
    with pytest.raises(BadFile, match=r"written as \[\[chain\]\]"):
        read_pattern(head + 'chain = [{ key = "a", kind = "decision", name = "A" }]', "one.toml")


def test_a_misspelt_field_is_answered_with_the_one_that_is_meant() -> None:
    with pytest.raises(BadFile, match="is no field here; thickness is"):
        read_pattern(GOOD.replace("thickness", "thicknes"), "small.toml")


def test_more_activities_than_anybody_looks_at_are_refused() -> None:
    many = "".join(f'[[chain]]\nkey = "a{n}"\nkind = "decision"\nname = "A"\n' for n in range(401))
    with pytest.raises(BadFile, match="at most 400"):
        read_pattern(GOOD + many, "many.toml")


def test_numbers_asked_of_more_parts_than_anybody_measures_are_refused() -> None:
    ask = '  { label = "Off", each = true },\n'
    text = GOOD.replace("parts = 3\nasks = [\n", "parts = 200\nasks = [\n" + ask * 20)
    with pytest.raises(BadFile, match="at most 4000"):
        read_pattern(text, "many.toml")


def test_a_file_is_refused_before_it_takes_all_memory() -> None:
    for text in ("a" + ".a" * 120_000 + " = 1", "[" + '"a".' * 60_000 + "a]", "a" * 250_000):
        with pytest.raises(BadFile):
            read_pattern(text, "deep.toml")
