"""Changes made, put back and done again in the core alone, and a rail to change."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from server.core.changes import Command, change
from server.core.changes.undoing import Redo, Undo
from server.core.refusals import Refusal, message
from server.core.world import TABLES, Difference, Noun, Snapshot, differences
from server.words import say
from tests.core.changes.pressing import NOW
from tests.worlds import World, a_project, actor

Rows = tuple[Difference, ...]
WHAT = message("log.heard", crew="Somebody")


def rail() -> World:
    """Board over studs, then a coat; a place, two crews."""
    return (
        a_project()
        .with_crew("Ninepail Plaster")
        .with_crew("Ore Street Metal")
        .with_place("Landing")
        .with_detail("Rail")
        .with_layer("Studs", parts=4)
        .with_layer("Board", parts=4)
        .with_task("Frame", crew="Ore Street Metal", puts_in="Studs")
        .with_task("Hang board", after="Frame", puts_in="Board", covers="Studs")
        .with_task("Base coat", after="Hang board")
    )


def made(snapshot: Snapshot, *commands: Command) -> tuple[Snapshot, Rows]:
    """The world after the super's commands, and the rows that they touched."""
    after = snapshot
    for command in commands:
        after = change(after, actor(after), command, NOW).after
    return after, tuple(differences(snapshot, after))


def undone(snapshot: Snapshot, rows: Rows, since: Rows = ()) -> tuple[Snapshot, Rows]:
    """The world without a change, and what that touched. `since`: what was touched meanwhile."""
    undo = Undo(entry_id="e", rows=rows, what=WHAT, since=since)
    outcome = change(snapshot, actor(snapshot), undo, NOW)
    assert say(outcome.said)
    return outcome.after, tuple(differences(snapshot, outcome.after))


def redone(snapshot: Snapshot, rows: Rows, since: Rows = ()) -> Snapshot:
    """The world with a change that was undone done again."""
    redo = Redo(entry_id="u", rows=rows, what=WHAT, since=since)
    return change(snapshot, actor(snapshot), redo, NOW).after


def refused(act: Callable[[], object]) -> tuple[str, Noun | None]:
    """The id of the refusal, which can be said, and the row in the way."""
    with pytest.raises(Refusal) as caught:
        act()
    assert say(caught.value.message)
    assert caught.value.field is None
    return caught.value.id, getattr(caught.value, "row", None)


def unversioned(snapshot: Snapshot) -> dict[str, dict[str, Noun]]:
    """All rows by table and id, without their versions."""
    tables = {name: getattr(snapshot, name).values() for name in TABLES.values()}
    return {
        name: {noun.id: replace(noun, version=0) for noun in nouns}
        for name, nouns in tables.items()
    }
