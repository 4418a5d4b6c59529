"""What the program remembers: `open_store(settings)` gives the `Store`."""

from server.store.apply import OPERATOR, Applied
from server.store.log import LogRow
from server.store.refusals import AlreadyUsed, CannotKeep, Unavailable
from server.store.store import Store, open_store
from server.store.undoing import ChangedBySomebody, Turns, of_what

__all__ = [
    "OPERATOR",
    "AlreadyUsed",
    "Applied",
    "CannotKeep",
    "ChangedBySomebody",
    "LogRow",
    "Store",
    "Turns",
    "Unavailable",
    "of_what",
    "open_store",
]
