"""Commands that put back what a person has changed last, and do it again."""

from dataclasses import dataclass

from server.core.changes.base import ChangedSince, Command
from server.core.refusals import Message
from server.core.world import Difference, Noun


@dataclass(frozen=True, kw_only=True)
class Undo(Command):
    """What an entry of the log changed is put back.

    A page names the entry alone. `rows`, what the entry changed, and `what`, what it says, are the
    store's to fill in, from the log and in the transaction of the change.
    """

    entry_id: str
    rows: tuple[Difference, ...] = ()
    what: Message | None = None


@dataclass(frozen=True, kw_only=True)
class Redo(Command):
    """What was undone is done again: `entry_id` is the entry of the undoing. Else like `Undo`."""

    entry_id: str
    rows: tuple[Difference, ...] = ()
    what: Message | None = None


class NotPutBack(ChangedSince):
    """Something that came since does not go with what would be put back; `row` is in the way."""

    row: Noun | None = None

    def because_of(self, row: Noun) -> "NotPutBack":
        """The same, with the row in the way: the log knows who changed it."""
        self.row = row
        return self
