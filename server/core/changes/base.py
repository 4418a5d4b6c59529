"""How a change is made: a frozen command, the rights of its person, a pure rule, a new snapshot."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, TypeVar

from server.core.refusals import Message, Refusal
from server.core.rights import allowed
from server.core.world import TABLES, Noun, Snapshot, differences


@dataclass(frozen=True, kw_only=True)
class Actor:
    """Who gives a command. `role` is the person's: "super", "crew", "rep".

    `confirmed` is False on a second phone that the super has not confirmed: it may only look.
    """

    person_id: str
    name: str
    role: str
    crew_id: str | None = None
    confirmed: bool = True


@dataclass(frozen=True, kw_only=True)
class Command:
    """The base of all commands. `seen` holds the versions (row id -> version) its person saw."""

    seen: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Outcome:
    """What a rule gives back: the world after, and what the log says of it."""

    after: Snapshot
    said: Message


C = TypeVar("C", bound=Command)
N = TypeVar("N", bound=Noun)
Rule = Callable[[Snapshot, Actor, C, datetime], Outcome]

RULES: dict[type[Command], Rule[Any]] = {}


def rule(command: type[C]) -> Callable[[Rule[C]], Rule[C]]:
    """Registers the rule of a command: (snapshot, actor, command, at) -> Outcome, or a Refusal.

    `at` is now, as naive wall-clock time of the project.
    """

    def register(function: Rule[C]) -> Rule[C]:
        RULES[command] = function
        return function

    return register


class Gone(Refusal):
    """The thing a command is about is not there (any more)."""


class ChangedSince(Refusal):
    """A row the person saw has been changed by somebody else meanwhile."""


def find(snapshot: Snapshot, noun: type[N], id: str) -> N:
    """The noun with this id, or `Gone`."""
    found = snapshot.table(noun).get(id)
    if found is None:
        raise Gone("change.gone", what=TABLES[noun])
    return found


def change(snapshot: Snapshot, actor: Actor, command: Command, at: datetime) -> Outcome:
    """What the world is after a command: rights, versions seen, rule, versions counted up.

    Raises a `Refusal` (its subclasses live beside their rules) and changes nothing then.
    """
    allowed(snapshot, actor, command)
    _unchanged(snapshot, command)
    outcome = RULES[type(command)](snapshot, actor, command, at)
    return replace(outcome, after=_counted(snapshot, outcome.after))


def changed(
    snapshot: Snapshot, actor: Actor, commands: Iterable[Command], at: datetime
) -> Snapshot:
    """What the world is after several commands, one after the other. Raises a `Refusal`."""
    for command in commands:
        snapshot = change(snapshot, actor, command, at).after
    return snapshot


def _unchanged(snapshot: Snapshot, command: Command) -> None:
    for id, version in command.seen.items():
        for name in TABLES.values():
            noun: Noun | None = getattr(snapshot, name).get(id)
            if noun is not None and noun.version != version:
                raise ChangedSince("change.changed_since", id=id)


def _counted(before: Snapshot, after: Snapshot) -> Snapshot:
    changed = [
        replace(d.after, version=d.before.version + 1)
        for d in differences(before, after)
        if d.before is not None and d.after is not None
    ]
    return after.put(*changed) if changed else after
