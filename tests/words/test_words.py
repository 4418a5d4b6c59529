"""What is said for typed values and messages, in English."""

from datetime import date, datetime, time, timedelta
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

import pytest

from server.core.refusals import Message, Refusal, Value, message
from server.words import BadTemplate, DoubledId, Words, languages, say

FRIDAY = datetime(2026, 12, 4, 7)
EN = Words("en")


def english(tmp_path: Path, **texts: str) -> Words:
    """English with a few messages more, in a folder of its own."""
    folder = tmp_path / "en"
    folder.mkdir()
    common = Path(__file__).parents[2] / "server" / "words" / "en" / "common.toml"
    (folder / "common.toml").write_text(common.read_text("utf-8"), "utf-8")
    lines = [f"{id} = '{text}'" for id, text in texts.items()]
    (folder / "more.toml").write_text("[t]\n" + "\n".join(lines), "utf-8")
    return Words("en", tmp_path)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("Ana", "Ana"),
        (3, "3"),
        (1016, "1016"),
        (True, "yes"),
        (False, "no"),
        (None, "not said"),
        (0.25, "0.25"),
        (Fraction(577, 16), "36 1/16"),
        (FRIDAY, "Fri Dec 4, 7 am"),
        (date(2026, 12, 3), "Thu Dec 3"),
        (time(7), "7 am"),
        (time(15, 30), "3:30 pm"),
        (time(12), "noon"),
        (time(12, 30), "12:30 pm"),
        (time(0), "12 am"),
        (timedelta(hours=2), "2 h"),
        (("a",), "a"),
        (("a", "b"), "a and b"),
        (("a", "b", "c"), "a, b and c"),
        (message("span.hours", n=2), "2 h"),
        ((message("span.hours", n=2), time(7)), "2 h and 7 am"),
    ],
)
def test_a_value_is_said_by_its_type(value: Value, said: str) -> None:
    assert EN.value(value) == said


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 12, 31), "Thu Dec 31"),
        (date(2027, 1, 8), "Fri Jan 8"),
        (date(2027, 6, 8), "Tue Jun 8, 2027"),
        (date(2025, 12, 4), "Thu Dec 4, 2025"),
    ],
)
def test_a_day_carries_its_year_only_when_it_is_another_and_not_near(day: date, said: str) -> None:
    assert EN.day(day, FRIDAY) == said


@pytest.mark.parametrize(
    ("at", "said"),
    [
        (datetime(2026, 12, 4, 10, 40), "today 10:40 am"),
        (datetime(2026, 12, 5, 7), "tomorrow 7 am"),
        (datetime(2026, 12, 3, 15), "yesterday 3 pm"),
        (datetime(2026, 12, 8, 7), "Tue Dec 8, 7 am"),
        (date(2026, 12, 5), "tomorrow"),
        (date(2026, 12, 8), "Tue Dec 8"),
    ],
)
def test_a_moment_is_seen_from_now(at: date, said: str) -> None:
    assert EN.when(at, FRIDAY) == said


def test_without_now_a_moment_is_said_plainly() -> None:
    assert EN.when(FRIDAY, None) == "Fri Dec 4, 7 am"


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (0, "0 days"),
        (45, "45 min"),
        (90, "1 h 30 min"),
        (720, "12 h"),
        (1440, "1 day"),
        (2160, "36 h"),
        (2880, "2 days"),
        (4320, "3 days"),
        (3000, "2 days 2 h"),
        (-120, "-2 h"),
    ],
)
def test_clock_time_is_said_in_days_of_24_hours(minutes: int, said: str) -> None:
    assert EN.span(minutes) == said


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (240, "1/2 day"),
        (480, "1 day"),
        (720, "1 1/2 days"),
        (120, "2 h"),
        (600, "1 day 2 h"),
        (-240, "-1/2 day"),
    ],
)
def test_working_time_is_said_in_days_of_8_hours(minutes: int, said: str) -> None:
    assert EN.span(minutes, 480) == said


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        (Fraction(577, 16), "in", "36 1/16 in"),
        (Fraction(1, 64), "in", "1/64 in"),
        (Fraction(-1, 8), "in", "-1/8 in"),
        (Fraction(36), "in", "36 in"),
        (Fraction("36.06"), "in", "36.06 in"),
        (Fraction(1, 3), "in", "about 0.333 in"),
        (Fraction(9140, 254), "in", "about 35.984 in"),
        (Fraction("914.4"), "mm", "914.4 mm"),
        (Fraction(1016), "mm", "1016 mm"),
        (Fraction(17, 2), "%", "8.5%"),
        (Fraction(68), "°F", "68°F"),
        (Fraction(7), "count", "7"),
    ],
)
def test_a_length_is_said_as_a_tape_or_a_scale_shows_it(
    value: Fraction, unit: str, said: str
) -> None:
    assert EN.length(value, unit) == said


def test_a_unit_that_nobody_wrote_down_is_a_mistake_in_the_program() -> None:
    with pytest.raises(LookupError, match=r"unit\.cubit"):
        EN.length(Fraction(3), "cubit")


class Color(StrEnum):
    RED = "red lead"


@pytest.mark.parametrize(
    ("template", "values", "said"),
    [
        ("{n:photo|photos}", {"n": 1}, "1 photo"),
        ("{n:photo|photos}", {"n": 0}, "0 photos"),
        ("{n:photo|photos}", {"n": 1200}, "1,200 photos"),
        ("{late:late|on time}", {"late": True}, "late"),
        ("{late:late|on time}", {"late": False}, "on time"),
        ("{at:when}", {"at": datetime(2026, 12, 5, 7)}, "tomorrow 7 am"),
        ("{at:day}", {"at": FRIDAY}, "Fri Dec 4"),
        ("{at:clock}", {"at": FRIDAY}, "7 am"),
        ("{at:dated}", {"at": FRIDAY}, "Fri Dec 4, 2026"),
        ("{m:work}", {"m": 240}, "1/2 day"),
        ("{m:span}", {"m": 2880}, "2 days"),
        ("{v:@u}", {"v": Fraction(1, 16), "u": "in"}, "1/16 in"),
        ("{who:or}", {"who": ("Ana", "Li")}, "Ana or Li"),
        ("{u:one of unit.name}", {"u": "in"}, "inches"),
        ("{c}", {"c": Color.RED}, "red lead"),
        ("{{as it stands}}", {}, "{as it stands}"),
    ],
)
def test_a_template_says_how_a_value_is_said(
    tmp_path: Path, template: str, values: dict[str, Value], said: str
) -> None:
    words = english(tmp_path, it=template)
    assert words.say(Message("t.it", values), now=FRIDAY) == said


@pytest.mark.parametrize(
    "name",
    [
        "{n}",
        "{0.__class__}",
        "<b>Bob & Co</b>",
        "Łukasz Żółć",
        "محمد",
        "李小龙",
        "{n:photo|photos}",
    ],
)
def test_a_name_passes_unharmed_and_is_never_interpreted(tmp_path: Path, name: str) -> None:
    words = english(tmp_path, it="{who} came.")
    assert words.say(message("t.it", who=name)) == f"{name} came."


def test_a_message_within_a_message_is_said_in_its_place(tmp_path: Path) -> None:
    words = english(tmp_path, outer="{why}. Ask.", inner="{n:sheet|sheets} short")
    assert words.say(message("t.outer", why=message("t.inner", n=2))) == "2 sheets short. Ask."


def test_a_refusal_is_said_by_its_message() -> None:
    assert say(Refusal("span.hours", field="x", n=3).message) == "3 h"


def test_an_unknown_id_raises() -> None:
    with pytest.raises(LookupError, match=r"no\.such"):
        say(message("no.such"))


def test_a_missing_value_raises() -> None:
    with pytest.raises(LookupError, match="'n'"):
        say(message("span.hours"))


@pytest.mark.parametrize("spec", ["when", "day", "clock", "span", "work", "a|b", "@u", "or"])
def test_a_value_that_cannot_be_said_as_asked_raises(tmp_path: Path, spec: str) -> None:
    words = english(tmp_path, it=f"{{x:{spec}}}")
    with pytest.raises(TypeError, match=r"t\.it"):
        words.say(message("t.it", x="text", u="in"))


@pytest.mark.parametrize(
    "template", ["{", "{x!r}", "{0}", "{x.y}", "{x:shout}", "{x:one of }", "{x:{y}}", "{}"]
)
def test_a_template_that_cannot_be_read_is_refused_when_it_is_loaded(
    tmp_path: Path, template: str
) -> None:
    with pytest.raises(BadTemplate):
        english(tmp_path, it=template)


def test_an_id_given_by_two_files_is_refused(tmp_path: Path) -> None:
    folder = tmp_path / "en"
    folder.mkdir()
    (folder / "a.toml").write_text("[hold]\nreleased = 'x'")
    (folder / "b.toml").write_text("'hold.released' = 'y'")
    with pytest.raises(DoubledId, match=r"hold\.released is in a\.toml and in b\.toml"):
        Words("en", tmp_path)


def test_english_is_the_first_language() -> None:
    assert languages()[0] == "en"
