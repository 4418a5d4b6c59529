"""What can go wrong on a command line, each in one sentence."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from pydantic import ValidationError
from sqlalchemy import make_url
from sqlalchemy.exc import ArgumentError, OperationalError

from server.core.refusals import Refusal
from server.settings import Settings
from server.words import words


class Problem(Exception):
    """A sentence for the person at the keyboard, and the exit code."""

    def __init__(self, sentence: str, *, code: int = 1) -> None:
        super().__init__(sentence)
        self.code = code


def settings_from(make: Callable[[], Settings]) -> Settings:
    """The settings, or a `Problem` that names the first one that is wrong."""
    try:
        return make()
    except ValidationError as error:
        first = error.errors()[0]
        name = str(first["loc"][0]).upper()
        reason = str(first["msg"]).removeprefix("Value error, ")
        raise Problem(f"STAIRHOLD_{name}: {reason}", code=2) from None
    except ValueError as error:  # from a default that is worked out from another setting
        raise Problem(str(error), code=2) from None


@contextmanager
def one_sentence(settings: Settings, other_folder: str = "STAIRHOLD_DATA_DIR") -> Iterator[None]:
    """Turns what the folder, the database or a rule refuses into a `Problem`.

    `other_folder` is how to choose another folder.
    """
    try:
        yield
    except ArgumentError:
        raise Problem("STAIRHOLD_DATABASE_URL is not the address of a database", code=2) from None
    except OperationalError as error:
        address = make_url(settings.database_url).render_as_string(hide_password=True)
        reason = " ".join(str(error.orig).split())
        raise Problem(f"the database {address} does not answer: {reason}") from None
    except OSError as error:
        where = error.filename or settings.data_dir
        sentence = f"cannot write in {where} ({error.strerror}); choose another folder with"
        raise Problem(f"{sentence} {other_folder}") from None
    except Refusal as refusal:
        raise Problem(words("en").say(refusal.message)) from None


def writable(folder: Path) -> None:
    """Makes the folder if it is not there. Raises OSError if nothing can be written in it."""
    # Asked beforehand, because SQLite only says that it cannot open its file.
    folder.mkdir(parents=True, exist_ok=True)
    probe = folder / ".writable"
    probe.touch()
    probe.unlink()
