"""Rules: what one entry of the log changed is put back, if all of it is as the entry left it."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import BadInput
from server.core.changes.undo_checks import refuse_what_does_not_fit
from server.core.changes.undo_sharing import refuse_shared_since
from server.core.changes.undoing import Redo, Undo, not_put_back
from server.core.refusals import message
from server.core.world import Activity, Cause, DayFinish, Detail, Difference, Noun, Snapshot

KEPT_ALONG = (DayFinish, Cause)
"""What is kept beside a change, of the days and why they moved; it is no part of the change."""


@rule(Undo)
def undo(snapshot: Snapshot, actor: Actor, command: Undo, at: datetime) -> Outcome:
    """The rows of an entry are as they were before it."""
    after = _put_back(snapshot, command, at)
    return Outcome(after, message("log.undone", what=command.what))


@rule(Redo)
def redo(snapshot: Snapshot, actor: Actor, command: Redo, at: datetime) -> Outcome:
    """The rows of an undoing are as they were before it."""
    after = _put_back(snapshot, command, at)
    return Outcome(after, message("log.redone", what=command.what))


def _put_back(snapshot: Snapshot, command: Undo | Redo, at: datetime) -> Snapshot:
    if command.what is None:
        raise BadInput("undo.nothing")
    rows = [d for d in command.rows if not _kept_along(d)]
    now = [_as_left(snapshot, row) for row in rows]
    gone = [found for row, found in zip(rows, now, strict=True) if found and row.before is None]
    back = [
        _counted(snapshot, row.before, found)
        for row, found in zip(rows, now, strict=True)
        if row.before is not None
    ]
    after = snapshot.drop(*gone, *_evenings(snapshot, gone)).put(*back)
    refuse_what_does_not_fit(snapshot, after, gone, back, at)
    refuse_shared_since(snapshot, rows, command.since)
    return after.put(*_moved_between(snapshot, after, back))


def _kept_along(row: Difference) -> bool:
    return row.before is None and isinstance(row.after, KEPT_ALONG)


def _as_left(snapshot: Snapshot, row: Difference) -> Noun | None:
    """The row as it is now, or None if it is gone; refused unless the entry left it like that."""
    one = row.after or row.before
    assert one is not None, "a difference has two sides, and one of them is a row"
    now = snapshot.table(type(one)).get(one.id)
    if _unversioned(now) != _unversioned(row.after):
        raise not_put_back("undo.changed", snapshot, one)
    return now


def _unversioned(noun: Noun | None) -> Noun | None:
    return replace(noun, version=0) if noun is not None else None


def _counted(snapshot: Snapshot, row: Noun, now: Noun | None) -> Noun:
    """The row with the version it has now, which is counted up for it like for any change.

    One that comes back may have had its id given to another meanwhile, which is gone again. No row
    has been changed more often than the company: so nobody has seen that version of either.
    """
    if now is not None:
        return replace(row, version=now.version)
    return replace(row, version=max(row.version, snapshot.company_revision) + 1)


def _moved_between(before: Snapshot, after: Snapshot, back: Iterable[Noun]) -> list[Detail]:
    """The details that work goes back to: put again, what hangs together is worked out anew."""
    moved = (
        row.detail_id
        for row in back
        if isinstance(row, Activity) and (now := before.activities.get(row.id)) is not None
        if now.detail_id != row.detail_id
    )
    return [after.details[id] for id in dict.fromkeys(moved)]


def _evenings(snapshot: Snapshot, gone: Iterable[Noun]) -> list[DayFinish]:
    """The evenings kept of details that go: they say nothing of anything then."""
    ids = {noun.id for noun in gone if isinstance(noun, Detail)}
    return [row for row in snapshot.finishes.values() if row.detail_id in ids]
