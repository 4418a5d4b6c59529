"""What each rule looked at, so that a mend is tried only on the rules that could find otherwise.

A rule is a function of the tables of a snapshot and of the dates. Asked of a snapshot that is
watched, it leaves behind the tables it has read; a mend that changes none of these, and no date,
leaves what it found.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from server.core.schedule import Schedule
from server.core.warnings.base import Rule, Warning
from server.core.world import MADE_OF, TABLES, Snapshot

_TABLES = frozenset(TABLES.values())
_MADE_OF: Mapping[str, tuple[str, ...]] = {
    **{name: (name,) for name in _TABLES},
    **MADE_OF,
    "chain_of": MADE_OF["_chains"],
    "company": ("companies",),
    "project": ("projects",),
}


@dataclass(frozen=True)
class Findings:
    """What one rule found in a snapshot, and the tables that it read for it."""

    warnings: tuple[Warning, ...]
    read: frozenset[str]


def watched(rule: Rule, snapshot: Snapshot, schedule: Schedule) -> Findings:
    """What a rule finds, and what it read. What is not a table counts as all of them."""
    eye = _Watched(snapshot)
    warnings = tuple(rule.find(cast(Snapshot, eye), schedule))
    tables: set[str] = set()
    for name in eye.names:
        tables.update(_MADE_OF.get(name, _TABLES))
    return Findings(warnings, frozenset(tables))


def changed_tables(before: Snapshot, after: Snapshot) -> frozenset[str]:
    """The tables that are not the same in two snapshots made from one another."""
    return frozenset(name for name in _TABLES if getattr(before, name) is not getattr(after, name))


class _Watched:
    """A snapshot that remembers what of it was asked for."""

    def __init__(self, snapshot: Snapshot) -> None:
        self._snapshot = snapshot
        self.names: set[str] = set()

    def __getattr__(self, name: str) -> Any:
        self.names.add(name)
        # the next time it is found here, and this is not asked
        value = vars(self)[name] = getattr(self._snapshot, name)
        return value
