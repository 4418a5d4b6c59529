"""JSON read with the line of every value, so that a mistake in it can name its line and field.

Stricter than `json`: UTF-8 only, no name twice, no NaN or Infinity, nothing nested without end.
"""

import json
import math
import re
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field
from json import JSONDecodeError
from typing import Any, NoReturn

from server.data.tables import BadFile

Path = tuple[str | int, ...]
"""The names and numbers that lead to a value: ("activities", 3, "work")."""

DEEPEST = 32
_LONGEST = 60
_SPACE = re.compile(r"[ \t\n\r]*")
_PLAIN = re.compile(r"[\w-]{1,60}", re.ASCII)
_HALF = re.compile("[\ud800-\udfff]")


@dataclass(frozen=True, slots=True)
class Document:
    """What a file says, and the line of each value in it."""

    file: str
    value: Any
    lines: Mapping[Path, int]

    def bad(self, path: Path, why: str) -> BadFile:
        """What to raise for a value; one that is not there has the line of what lacks it."""
        known = path
        while known not in self.lines:
            known = known[:-1]
        return BadFile(self.file, self.lines[known], named(path), why)

    def at(self, path: Path) -> Any:
        """The value at a path. `LookupError` if there is none."""
        value = self.value
        for step in path:
            value = value[step]
        return value


def read_json(data: bytes, file: str) -> Document:
    """The value in a file, as `json.loads` gives it. Raises `BadFile`."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line, column = before.count(b"\n") + 1, error.start - before.rfind(b"\n")
        raise BadFile(file, line, f"byte {column}", "is not UTF-8") from None
    return _Reader(text, file).read()


def named(path: Path) -> str:
    """A path as it is written: activities[3].work."""
    said = ""
    for step in path:
        if isinstance(step, str) and _PLAIN.fullmatch(step):
            said += f".{step}" if said else step
        else:
            said += f"[{shown(step)}]"
    return said or "the file"


def shown(value: Any) -> str:
    """A value as JSON writes it, cut short, on one line."""
    if isinstance(value, dict | list):
        return "an object" if isinstance(value, dict) else "a list"
    if isinstance(value, str) and len(value) > _LONGEST:
        value = value[:_LONGEST] + "…"
    # Line ends come in more shapes than JSON escapes.
    printable = isinstance(value, str) and value.isprintable()
    said = json.dumps(value, ensure_ascii=not printable)
    return said if isinstance(value, str) or len(said) <= _LONGEST else said[:_LONGEST] + "…"


@dataclass(slots=True)
class _Reader:
    """Walks objects and lists itself, to know where it is; `json` reads what stands in them."""

    text: str
    file: str
    lines: dict[Path, int] = field(default_factory=dict)
    breaks: list[int] = field(default_factory=list)
    decoder: json.JSONDecoder = field(init=False)

    def __post_init__(self) -> None:
        self.breaks = [found.start() for found in re.finditer("\n", self.text)]
        self.decoder = json.JSONDecoder(parse_constant=_refuse, parse_float=_finite)

    def read(self) -> Document:
        """The whole."""
        value, at = self._value(self._space(0), ())
        at = self._space(at)
        if at < len(self.text):
            raise self._no_json(at, "there is more after its end")
        return Document(self.file, value, self.lines)

    def _value(self, at: int, path: Path) -> tuple[Any, int]:
        """The value that begins at a character, and where it ends."""
        if len(path) > DEEPEST:
            raise self._at(at, f"is nested deeper than {DEEPEST} levels")
        self.lines[path] = self._line(at)
        match self.text[at : at + 1]:
            case "{":
                return self._object(at, path)
            case "[":
                return self._list(at, path)
        return self._scalar(at, path)

    def _object(self, at: int, path: Path) -> tuple[dict[str, Any], int]:
        members: dict[str, Any] = {}
        at = self._space(at + 1)
        if self._is("}", at):
            return members, at + 1
        while True:
            if not self._is('"', at):
                raise self._no_json(at, "a name in double quotes is expected")
            name, end = self._scalar(at, path)
            inside = (*path, name)
            if name in members:
                raise BadFile(self.file, self._line(at), named(inside), "stands here twice")
            at = self._past(":", end)
            members[name], end = self._value(at, inside)
            if self._is("}", at := self._space(end)):
                return members, at + 1
            at = self._past(",", at)

    def _list(self, at: int, path: Path) -> tuple[list[Any], int]:
        items: list[Any] = []
        at = self._space(at + 1)
        if self._is("]", at):
            return items, at + 1
        while True:
            item, end = self._value(at, (*path, len(items)))
            items.append(item)
            if self._is("]", at := self._space(end)):
                return items, at + 1
            at = self._past(",", at)

    def _scalar(self, at: int, path: Path) -> tuple[Any, int]:
        """A text, a number, true, false or null."""
        try:
            value, end = self.decoder.raw_decode(self.text, at)
        except JSONDecodeError as error:
            raise self._no_json(error.pos, error.msg.removesuffix(" at").lower()) from None
        except ValueError as error:  # a number that is none, or that no computer holds
            why = str(error) if isinstance(error, _NoNumber) else "is too long a number"
            raise BadFile(self.file, self._line(at), named(path), why) from None
        if isinstance(value, str) and _HALF.search(value):
            raise BadFile(self.file, self._line(at), named(path), "holds half a character")
        return value, end

    def _space(self, at: int) -> int:
        found = _SPACE.match(self.text, at)
        return found.end() if found else at

    def _is(self, mark: str, at: int) -> bool:
        return self.text.startswith(mark, at)

    def _past(self, mark: str, at: int) -> int:
        """Where the next thing begins, after a mark that has to stand here."""
        at = self._space(at)
        if not self._is(mark, at):
            raise self._no_json(at, f"a {mark} is expected")
        return self._space(at + 1)

    def _line(self, at: int) -> int:
        return bisect_left(self.breaks, at) + 1

    def _no_json(self, at: int, why: str) -> BadFile:
        return self._at(at, f"is no JSON: {why}")

    def _at(self, at: int, why: str) -> BadFile:
        """A mistake in the writing itself, which has no field yet: named by its column."""
        column = at - self.text.rfind("\n", 0, at)
        return BadFile(self.file, self._line(at), f"column {column}", why)


class _NoNumber(ValueError):
    """Why something is no number, in words."""


def _refuse(text: str) -> NoReturn:
    raise _NoNumber(f"{text} is no number")


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise _NoNumber("is too large a number")
    return number
