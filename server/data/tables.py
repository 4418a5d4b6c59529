"""Reading one table of a data file field by field, so that a mistake names its line and field."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from fractions import Fraction
from typing import Any

HOUR = 60
WORK_DAY = 8 * HOUR
CLOCK_DAY = 24 * HOUR
LONGEST = 120
_FRACTION = r"[0-9]{1,6}/[1-9][0-9]{0,5}"
_NUMBER = rf"[0-9]{{1,9}} {_FRACTION}|{_FRACTION}|[0-9]{{1,9}}"
_TIME = re.compile(rf"(-?)({_NUMBER}) (min|h|d|days?|wk)")
_RANGE = re.compile(rf"({_NUMBER}) to ({_NUMBER}) (min|h|d|days?|wk)")
_LENGTH = re.compile(rf"-?(?:{_NUMBER})")
_UNPRINTED = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_WORDS = {
    str: "text in quotes",
    int: "whole number",
    float: "decimal number",
    list: "list in [ ]",
    dict: "table",
}


class BadFile(Exception):
    """A data file that cannot be taken: which, in what line, which field, and why."""

    def __init__(self, file: str, line: int, field: str, why: str) -> None:
        self.file, self.line, self.field, self.why = file, line, field, why
        super().__init__(f"{file}, line {line}, {field}: {why}")


@dataclass
class Table:
    """The fields of one table. Each is taken once; `done` refuses what nobody took.

    `line` is the line of its header; a field's own line is looked for below that. `tag` is what
    its numbers are tagged with where they do not say so themselves.
    """

    values: Mapping[str, Any]
    file: str
    lines: Sequence[str]
    line: int
    tag: str = "P"
    taken: set[str] = field(default_factory=set)

    def bad(self, name: str, why: str) -> BadFile:
        """What to raise for a field."""
        below = enumerate(self.lines[self.line :], self.line + 1)
        found = re.compile(rf"(?:.*[{{ ])?{re.escape(name)} *=")
        for number, text in below:
            if found.match(text):
                return BadFile(self.file, number, name, why)
            if text.lstrip().startswith("[["):
                break
        return BadFile(self.file, max(self.line, 1), name, why)

    def take(self, name: str, type: type, default: Any = None) -> Any:
        """The value of a field; without a default it has to be there."""
        self.taken.add(name)
        if name not in self.values:
            if default is None:
                raise self.bad(name, "is missing")
            return default
        value = self.values[name]
        if not isinstance(value, type) or (type is int and isinstance(value, bool)):
            wanted = "neither true nor false" if type is bool else f"no {_WORDS[type]}"
            raise self.bad(name, f"{shown(value)} is {wanted}")
        if value == "":
            raise self.bad(name, "is empty")
        return value

    def text(self, name: str, default: str | None = None, *, most: int = LONGEST) -> str:
        """A text of at most so many letters, none of them unprintable."""
        text = str(self.take(name, str, default))
        if len(text) > most:
            raise self.bad(name, f"is longer than {most} letters")
        if _UNPRINTED.search(text):
            raise self.bad(name, "holds a sign that cannot be printed")
        return text

    def maybe(self, name: str, *, most: int = LONGEST) -> str:
        """A text; empty when it is not there."""
        self.taken.add(name)
        return self.text(name, most=most) if name in self.values else ""

    def one_of(self, name: str, known: Sequence[str], default: str | None = None) -> str:
        """A text out of those there are."""
        text = self.text(name, default)
        if text not in known:
            raise self.bad(name, f"{shown(text)} is none of {', '.join(known)}")
        return text

    def flag(self, name: str) -> bool:
        """True or false; false when it is not there."""
        return bool(self.take(name, bool, False))

    def count(self, name: str, most: int) -> int:
        """A whole number from 0; 0 when it is not there."""
        number = int(self.take(name, int, 0))
        if number < 0:
            raise self.bad(name, "is below 0")
        if number > most:
            raise self.bad(name, f"is more than {most}")
        return number

    def names(self, name: str) -> tuple[str, ...]:
        """A list of texts; empty when it is not there."""
        items = self.take(name, list, [])
        if not all(isinstance(item, str) and item for item in items):
            raise self.bad(name, "holds something that is no text in quotes")
        if any(len(item) > LONGEST or _UNPRINTED.search(item) for item in items):
            raise self.bad(name, f"holds a text longer than {LONGEST} letters, or unprintable")
        if len(set(items)) < len(items):
            raise self.bad(name, "names something twice")
        return tuple(items)

    def length(self, name: str) -> Fraction | None:
        """A number written as on a tape, "1 1/8"; None when it is not there."""
        text = self.take(name, str, "-")
        if text == "-":
            return None
        if not _LENGTH.fullmatch(text):
            raise self.bad(name, f"{shown(text)} is no number, like 1 1/8")
        return _number(text)

    def time(self, name: str, day: int, week: int, *, back: bool = False) -> int | None:
        """A time like "1 1/2 d" in minutes, `day` and `week` being so many; None without it.

        `back`: it may run backward, like "-2 h".
        """
        text = self.take(name, str, "-")
        if text == "-":
            return None
        if (found := _TIME.fullmatch(text)) is None or (found[1] and not back):
            raise self.bad(name, f"{shown(text)} is no time, like 1 1/2 d")
        minutes = _minutes(found[2], found[3], day, week)
        return -minutes if found[1] else minutes

    def range(self, name: str, day: int, week: int) -> tuple[int, int] | None:
        """A range like "3 to 5 wk" in minutes."""
        text = self.take(name, str, "-")
        if text == "-":
            return None
        if (found := _RANGE.fullmatch(text)) is None:
            raise self.bad(name, f"{shown(text)} is no range, like 1 to 1 1/2 d")
        return (_minutes(found[1], found[3], day, week), _minutes(found[2], found[3], day, week))

    def done(self) -> None:
        """Refuses fields that nobody knows: a slip of the pen would be lost otherwise."""
        for name in self.values:
            if name not in self.taken:
                near = get_close_matches(name, sorted(self.taken - self.values.keys()), 1)
                raise self.bad(
                    name, f"is no field here; {near[0]} is" if near else "is no field here"
                )


def shown(value: Any) -> str:
    """A value as a sentence shows it: short, on one line."""
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, bool):
        return str(value).lower()
    text = str(value)
    text = text if len(text) <= 40 else text[:40] + "…"
    return repr(text) if isinstance(value, str) else text


def number_text(value: Fraction) -> str:
    """A number from 0 as a file has it, and a tape: "1 1/8"."""
    whole, rest = divmod(value.numerator, value.denominator)
    if not rest:
        return str(whole)
    return f"{whole} {rest}/{value.denominator}" if whole else f"{rest}/{value.denominator}"


def _number(text: str) -> Fraction:
    sign = -1 if text.startswith("-") else 1
    return sign * sum((Fraction(part) for part in text.lstrip("-").split()), Fraction(0))


def _minutes(number: str, unit: str, day: int, week: int) -> int:
    minutes = {"min": 1, "h": HOUR, "d": day, "day": day, "days": day, "wk": week}[unit]
    return int(_number(number) * minutes)
