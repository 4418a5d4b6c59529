"""The tables of a pattern's file, each with its line; what cannot be one is refused."""

import re
import tomllib
from typing import Any

from server.core.changes.rules_own_patterns import LARGEST
from server.data.tables import BadFile, Table, shown

TAGS = ("P", "M", "own")
OWN = "own"
_STRING = r'"(?:[^"\\\n]|\\.)*+"|' + r"'[^'\n]*+'"
_LONG_STRING = r'"""(?:[^"\\]|\\.|"(?!""))*+"""|' + r"'''(?:[^']|'(?!''))*+'''"
_MASKED = re.compile(rf"{_LONG_STRING}|{_STRING}|#[^\n]*+", re.DOTALL)
_DOTTED = re.compile(r"(?:\.[ \t]*+[\w-]++[ \t]*+){4}")


def text_of_file(data: bytes, file: str) -> str:
    """The text of a file that was sent. Raises `BadFile` for what is too large or no UTF-8."""
    if len(data) > LARGEST:
        raise BadFile(file, 1, "the file", f"is larger than {LARGEST // 1024} kB")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = error.start - data.rfind(b"\n", 0, error.start)
        raise BadFile(
            file, line, f"byte {column}", "is not UTF-8: save the file as UTF-8"
        ) from None


def read_toml(text: str, file: str) -> Table:
    """The head of a file. Raises `BadFile` for what is no TOML, or is nested as no pattern is."""
    if len(text.encode("utf-8", "surrogatepass")) > LARGEST:
        raise BadFile(file, 1, "the file", f"is larger than {LARGEST // 1024} kB")
    text = text.replace("\r\n", "\n")
    _refuse_dotted(text, file)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadFile(file, _line_in(str(error), text), "the file", _said(error)) from None
    except RecursionError:
        raise BadFile(file, 1, "the file", "is nested too deep") from None
    except ValueError:  # a number that no computer holds
        raise BadFile(file, 1, "the file", "holds too long a number") from None
    return Table(values, file, text.split("\n"), 0)


def headed(head: Table, name: str, most: int) -> list[Table]:
    """All tables `[[name]]`, each with the line of its header; `name` may be of two words.

    Raises `BadFile` where one has no header of its own: then its line could not be told.
    """
    items: list[Any] = [head.values]
    for word in name.split("."):
        head.taken.add(word)
        found = []
        for item in items:
            inside = item.get(word, []) if isinstance(item, dict) else None
            if not isinstance(inside, list) or not all(isinstance(i, dict) for i in inside):
                raise _bad_header(head, word, f"is written as [[{name}]], once for each")
            found += inside
        items = found
    spaced = r"\s*\.\s*".join(name.split("."))
    header = re.compile(rf"\s*\[\[\s*{spaced}\s*\]\]\s*(#.*)?")
    at = [number for number, line in enumerate(head.lines, 1) if header.fullmatch(line)]
    if len(at) != len(items):
        why = f"is written as [[{name}]] on a line of its own, once for each"
        raise _bad_header(head, name.rpartition(".")[2], why)
    if len(items) > most:
        why = f"{len(items)} of them: a pattern has at most {most}"
        raise BadFile(head.file, at[most], name, why)
    return [
        Table(item, head.file, head.lines, line, head.tag)
        for item, line in zip(items, at, strict=True)
    ]


def _bad_header(head: Table, word: str, why: str) -> BadFile:
    """What to raise for tables that are written in another way than as [[word]]."""
    written = re.compile(rf"""\s*\[*\s*["']?(?:side\.)?{word}\b""")
    at = (number for number, line in enumerate(head.lines, 1) if written.match(line))
    return BadFile(head.file, next(at, 1), word, why)


def inner(table: Table, name: str, item: Any) -> Table:
    """A table inside another, whose field `name` holds it."""
    if not isinstance(item, dict):
        raise table.bad(name, f"{shown(item)} is no table")
    return Table(item, table.file, table.lines, table.line, table.tag)


def tag_of(table: Table) -> str:
    """Where its numbers come from; "" for the company's own."""
    tag = table.one_of("tag", TAGS, table.tag or OWN)
    return "" if tag == OWN else tag


def _refuse_dotted(text: str, file: str) -> None:
    """Names of many words, which the reader of TOML would take hours and all memory over."""
    masked = _MASKED.sub(lambda found: "s" + "\n" * found[0].count("\n"), text)
    if found := _DOTTED.search(masked):
        line = masked.count("\n", 0, found.start()) + 1
        raise BadFile(file, line, "the file", "is nested too deep")


def _said(error: tomllib.TOMLDecodeError) -> str:
    why = str(error).partition(" (at ")[0]
    if why == "Illegal character '\\n'" or why.startswith("Unterminated string"):
        why = "a text does not end with the quote it began with"
    return f"is no TOML: {why}"


def _line_in(error: str, text: str) -> int:
    """The line of a mistake in the TOML itself, which tomllib says only in its sentence."""
    found = re.search(r"at line (\d+)", error)
    return int(found[1]) if found else len(text.rstrip("\n").split("\n"))
