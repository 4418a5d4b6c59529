"""The database of a running firm, opened for a verb; what is wrong is said in one sentence."""

from collections.abc import Iterator
from contextlib import contextmanager

from server.cli.problems import Problem, one_sentence, settings_from, writable
from server.settings import Settings
from server.store import Store, open_store
from server.store.migrate import is_current


@contextmanager
def opened() -> Iterator[tuple[Settings, Store]]:
    """The settings of the environment, and the store they name. Raises `Problem`."""
    settings = settings_from(Settings)
    with one_sentence(settings):
        up_to_date(settings)
        store = open_store(settings)
        try:
            yield settings, store
        finally:
            store.close()


def up_to_date(settings: Settings) -> None:
    """Nothing if the database is what this version of the program expects, else a `Problem`."""
    writable(settings.data_dir)
    if not is_current(settings):
        raise Problem("the database is not up to date; run: stairhold migrate")
