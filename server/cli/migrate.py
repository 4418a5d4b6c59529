"""`stairhold migrate`: makes the database, or brings it up to date."""

from server.cli.problems import one_sentence, settings_from, writable
from server.settings import Settings
from server.store.migrate import upgrade


def migrate() -> None:
    """Make the database, or bring it up to date."""
    settings = settings_from(Settings)
    with one_sentence(settings):
        writable(settings.data_dir)
        upgrade(settings)
    print("The database is up to date.")
