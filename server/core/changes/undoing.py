"""Commands that put back what a person has changed last, and do it again."""

from dataclasses import dataclass

from server.core.changes.base import ChangedSince, Command
from server.core.refusals import Message, message
from server.core.world import (
    TABLES,
    Agreed,
    Ask,
    Attempt,
    Booking,
    Cause,
    Dependency,
    Difference,
    Effect,
    HoldPoint,
    Noun,
    Photo,
    Snapshot,
    Telling,
)

RowId = tuple[type[Noun], str]


@dataclass(frozen=True, kw_only=True)
class Undo(Command):
    """What an entry of the log changed is put back.

    A page names the entry alone. The rest is the store's to fill in, from the log and in the
    transaction of the change: `rows`, what the entry changed, `what`, what it says, and `since`,
    what came after it to tasks whose work it shared out anew (see `undo_sharing`).
    """

    entry_id: str
    rows: tuple[Difference, ...] = ()
    what: Message | None = None
    since: tuple[Difference, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Redo(Command):
    """What was undone is done again: `entry_id` is the entry of the undoing. Else like `Undo`."""

    entry_id: str
    rows: tuple[Difference, ...] = ()
    what: Message | None = None
    since: tuple[Difference, ...] = ()


class NotPutBack(ChangedSince):
    """Something that came since does not go with what would be put back.

    One of the rows `about` is in the way; `row` is the first of them that is there.
    """

    row: Noun | None = None
    about: tuple[RowId, ...] = ()

    def because_of(self, *rows: Noun) -> "NotPutBack":
        """The same, with the rows in the way: the log knows who changed them."""
        self.row = rows[0]
        self.about = tuple((type(row), row.id) for row in rows)
        return self

    def because_gone(self, noun: type[Noun], id: str) -> "NotPutBack":
        """The same, with the row that is missing."""
        self.about = ((noun, id),)
        return self


def not_put_back(id: str, snapshot: Snapshot, row: Noun) -> NotPutBack:
    """A refusal because of a row, which it names as `what`."""
    return NotPutBack(id, what=said_of(snapshot, row)).because_of(row)


def said_of(snapshot: Snapshot, row: Noun) -> Message:
    """A row as a person knows it: what it is, and its name or that of what it belongs to."""
    match row:
        case Dependency():
            owner = row.after_id
        case Effect() | HoldPoint() | Agreed() | Cause():
            owner = row.activity_id or ""
        case Ask() | Attempt() | Photo():
            hold = snapshot.holds.get(row.hold_id or "")
            owner = hold.activity_id if hold is not None else ""
        case Booking() | Telling():
            owner = next(iter(row.activity_ids), "")
        case _:
            owner = ""
    activity, what = snapshot.activities.get(owner), TABLES[type(row)]
    if name := activity.name if activity is not None else getattr(row, "name", ""):
        return message("undo.row", what=what, name=name)
    return message("undo.some_row", what=what)
