"""Changes in the text of a limits profile; all else in it stays as somebody wrote it."""

from collections.abc import Callable
from fractions import Fraction

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.items import AoT, Table

from server.core.figures.base import Limit
from server.core.figures.limit_names import LIMITS, UNITS_OF
from server.data.limits import OWN, read_profile
from server.data.tables import number_text

FINEST = 10_000
"""The largest denominator of a limit: nobody writes a finer one."""


def renamed(text: str, name: str) -> str:
    """The text of a profile with another name. Raises `BadFile` if the text is no profile."""

    def rename(document: TOMLDocument) -> None:
        document["name"] = name

    return _changed(text, rename)


def with_limit(text: str, name: str, limit: Limit | None) -> str:
    """The text of a profile with one limit new or other than it was; without it for None.

    Raises `BadFile` if the text is no profile, or would be none.
    """

    def put(document: TOMLDocument) -> None:
        tables = document.get("limit")
        assert isinstance(tables, AoT)
        at = next((i for i, table in enumerate(tables) if table["name"] == name), None)
        if limit is None:
            if at is not None:
                del tables[at]
            return
        if at is None:
            tables.append(tomlkit.table())
            at = len(tables) - 1
        _write(tables[at], name, limit)

    return _changed(text, put)


def _changed(text: str, change: Callable[[TOMLDocument], None]) -> str:
    read_profile(text, "")
    document = tomlkit.parse(text)
    change(document)
    changed = tomlkit.dumps(document)
    read_profile(changed, "")
    return changed


def _write(table: Table, name: str, limit: Limit) -> None:
    """Puts what a limit says into its table, and takes out what it does not say any more."""
    usual = UNITS_OF[LIMITS[name]][0]
    said = {
        "name": name,
        "least": _number(limit.least),
        "most": _number(limit.most),
        "unit": "" if limit.unit == usual else limit.unit,
        "section": limit.section,
        "tag": limit.tag or OWN,
        "source": limit.source,
    }
    for key, value in said.items():
        if value:
            table[key] = value
        elif key in table:
            del table[key]


def exact(value: float) -> Fraction:
    """A number of a limit as somebody wrote it."""
    return Fraction(value).limit_denominator(FINEST)


def _number(value: float | None) -> str:
    return "" if value is None else number_text(exact(value))
