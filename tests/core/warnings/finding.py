"""Finding warnings in tests: of one rule, with every sentence said and every mend pressed."""

from datetime import datetime

from server.core.changes import change
from server.core.changes.base import Command
from server.core.warnings import Warning, find
from server.core.world import Snapshot
from server.core.world.network import forecast
from server.words import say
from tests.worlds import World, actor, on

NOW = on("Dec 3 10:45")


def all_of(snapshot: Snapshot, at: datetime = NOW) -> tuple[Warning, ...]:
    """All warnings; each can be said."""
    found = find(snapshot, forecast(snapshot, at))
    for warning in found:
        assert say(warning.title)
        assert say(warning.sentence)
        assert all(say(mend.label) for mend in warning.mends)
    return found


def of(rule: str, world: World, at: datetime = NOW) -> tuple[Warning, ...]:
    """The warnings of one rule."""
    return tuple(w for w in all_of(world.snapshot(), at) if w.rule == rule)


def one(rule: str, world: World, at: datetime = NOW) -> Warning:
    """The only warning of a rule."""
    (found,) = of(rule, world, at)
    return found


def commands(warning: Warning) -> list[tuple[Command, ...]]:
    """What its mends would press."""
    return [mend.commands for mend in warning.mends]


def mended(world: World, warning: Warning, at: datetime = NOW) -> list[tuple[str, ...]]:
    """For each mend that is a press: the rules of the warnings that are left when it is pressed."""
    left = []
    for mend in warning.mends:
        after = world.snapshot()
        for command in mend.commands:
            after = change(after, actor(after), command, at).after
        if mend.commands:
            left.append(tuple(w.rule for w in all_of(after, at)))
    return left
