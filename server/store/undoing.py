"""What a person would undo or redo next, and who has changed something since: all from the log.

Undoing puts back the rows of an entry in an entry of its own, which names it (`of_id`); redoing
puts back the rows of that one. So an entry stands, or another has put it back: there is no more
to keep.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import reduce
from typing import cast

from sqlalchemy import Connection, select

from server.core.changes import Actor, ChangedSince, Command
from server.core.changes.undo_sharing import shared_out
from server.core.changes.undoing import NotPutBack, Redo, Undo
from server.core.refusals import Message, Refusal, message
from server.core.rights import NotTheirs, allowed
from server.core.undoable import UNDOABLE
from server.core.world import OfProject, Snapshot
from server.store import log
from server.store.log import LogRow
from server.store.tables import PROJECT


class NotNext(ChangedSince):
    """An entry that is not what this person would undo or redo next."""


class ChangedBySomebody(NotPutBack):
    """What is in the way of undoing, and the `entry` of whoever changed it since."""

    entry: LogRow


@dataclass(frozen=True)
class Turns:
    """The entries that a person would undo, and redo, next."""

    undo: LogRow | None = None
    redo: LogRow | None = None


def turns(connection: Connection, company_id: str, project_id: str | None, person_id: str) -> Turns:
    """What this person would undo and redo next in a project, or (None) in the company alone.

    Undone is the newest change of theirs that stands; redone the newest undoing that stands, unless
    they have changed something after it.
    """
    undo = redo = None
    put_back, changed = set[str](), False
    for row in log.of_person(connection, company_id, project_id, person_id):
        if row.of_id is None and not UNDOABLE.issuperset(row.commands):
            continue
        if row.id in put_back:
            continue
        if row.of_id is not None:
            put_back.add(row.of_id)
        if row.commands == (Undo.__name__,):
            redo = redo or (None if changed else row)
        else:
            undo, changed = undo or row, changed or row.of_id is None
        if undo and (redo or changed):
            break
    return Turns(undo, redo)


def of_what(row: LogRow) -> Message:
    """What an entry says of the change itself, also if it is its undoing or redoing."""
    said = _in_one(row)
    return cast(Message, said.values["what"]) if row.of_id is not None else said


def filled(
    connection: Connection,
    world: Snapshot,
    actor: Actor,
    commands: tuple[Command, ...],
) -> tuple[Command, ...]:
    """The commands, an undoing among them with its rows. Raises `NotTheirs` or `NotNext`.

    To be asked when nobody else can write: what is next stays so.
    """
    if not any(isinstance(command, (Undo, Redo)) for command in commands):
        return commands
    [command] = commands
    assert isinstance(command, (Undo, Redo)), "what is undone is an entry of its own"
    allowed(world, actor, command)
    company_id, project_id = world.company.id, next(iter(world.projects), None)
    next_ones = turns(connection, company_id, project_id, actor.person_id)
    row = next_ones.undo if isinstance(command, Undo) else next_ones.redo
    if row is None or row.id != command.entry_id:
        raise _not_next(log.entry(connection, company_id, command.entry_id), actor)
    rows = log.rows_of(connection, row.id)
    since = log.changed_about(connection, company_id, shared_out(rows), row.company_revision)
    return (replace(command, rows=rows, what=of_what(row), since=since),)


def put_back_by(commands: tuple[Command, ...]) -> str | None:
    """The entry that these commands put back."""
    return next((c.entry_id for c in commands if isinstance(c, (Undo, Redo))), None)


def elsewhere(
    connection: Connection, world: Snapshot, command: Command
) -> Iterator[tuple[str, Command]]:
    """The company's other projects in which an undoing has to be tried: what it puts back is
    theirs too. With each, what of it concerns them."""
    if not isinstance(command, (Undo, Redo)):
        return
    rows = tuple(d for d in command.rows if not isinstance(d.after or d.before, OfProject))
    if rows:
        chosen = select(PROJECT.c.id).where(PROJECT.c.company_id == world.company.id)
        for id in connection.scalars(chosen.order_by(PROJECT.c.id)).all():
            if id not in world.projects:
                yield id, replace(command, rows=rows)


@contextmanager
def told_by_whom(connection: Connection, company_id: str, command: Command) -> Iterator[None]:
    """A refusal to put something back says who has changed what is in the way, and how."""
    try:
        yield
    except NotPutBack as refusal:
        row = log.entry(connection, company_id, getattr(command, "entry_id", ""))
        if row is None:
            raise
        since = row.company_revision
        found = (log.newest_about(connection, company_id, *one, since) for one in refusal.about)
        by = max(filter(None, found), key=lambda by: by.company_revision, default=None)
        if by is None:
            raise
        raise _changed_by(refusal, by) from refusal


def _changed_by(refusal: NotPutBack, row: LogRow) -> ChangedBySomebody:
    who = row.person_name
    said = ChangedBySomebody(
        "undo.since", why=refusal.message, who=who, at=row.at, said=_in_one(row)
    )
    said.row, said.about, said.entry = refusal.row, refusal.about, row
    return said


def _not_next(row: LogRow | None, actor: Actor) -> Refusal:
    if row is not None and row.person_id != actor.person_id:
        return NotTheirs("undo.not_yours", who=row.person_name)
    if row is not None and row.of_id is None and not UNDOABLE.issuperset(row.commands):
        return NotNext("undo.never")
    return NotNext("undo.not_next")


def _in_one(row: LogRow) -> Message:
    return reduce(lambda first, then: message("log.then", first=first, then=then), row.said)
