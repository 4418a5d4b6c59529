"""Giving commands in tests: the super presses, and the world after or the refusal comes back."""

import pytest

from server.core.changes import Command, change
from server.core.refusals import Refusal
from server.core.world import Snapshot
from server.words import say
from tests.worlds import World, actor, on

NOW = on("Dec 3 10:52")


def pressed(world: World, command: Command, who: str = "Rufus Orme") -> Snapshot:
    """The world after a command; its entry in the log can be said."""
    before = world.snapshot()
    outcome = change(before, actor(before, who), command, NOW)
    assert say(outcome.said)
    return outcome.after


def refused(world: World, command: Command, who: str = "Rufus Orme") -> tuple[str, str | None]:
    """The id and the field of the refusal of a command; its sentence can be said."""
    before = world.snapshot()
    with pytest.raises(Refusal) as caught:
        change(before, actor(before, who), command, NOW)
    assert say(caught.value.message)
    return caught.value.id, caught.value.field
