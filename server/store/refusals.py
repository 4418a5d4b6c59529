"""What the store itself refuses; the rules' refusals pass through it unchanged."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import (
    DataError,
    DBAPIError,
    IntegrityError,
    InterfaceError,
    InternalError,
    OperationalError,
)
from sqlalchemy.exc import TimeoutError as PoolTimeout

from server.core.refusals import Refusal


class Unavailable(Refusal):
    """The database is locked for too long, full, or away. Nothing was kept; try again."""


class AlreadyUsed(Refusal):
    """A form's key comes again with other content."""


class CannotKeep(Refusal):
    """A value that no row can hold: an id taken elsewhere, a reference to another project."""


@contextmanager
def translated() -> Iterator[None]:
    """Database errors as refusals."""
    try:
        yield
    except (IntegrityError, DataError, OverflowError, UnicodeEncodeError) as error:
        raise CannotKeep("store.cannot_keep") from error
    except (OperationalError, InterfaceError, InternalError, PoolTimeout) as error:
        if isinstance(error, DBAPIError) and _is_our_mistake(error):
            raise
        raise Unavailable("store.unavailable") from error


def _is_our_mistake(error: DBAPIError) -> bool:
    # SQLite reports a missing table or a wrong statement as an OperationalError too.
    text = str(error.orig)
    return any(words in text for words in ("no such", "syntax error", "read-only transaction"))
