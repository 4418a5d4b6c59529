"""The schema of the database: what state it is in, and the way up and down."""

from collections.abc import Iterator
from contextlib import contextmanager

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, text

from server.resource import resource
from server.settings import Settings
from server.store.engine import Database

ONE_AT_A_TIME = 7_406_022
"""The number of the PostgreSQL lock that keeps two migrations apart."""


def upgrade(settings: Settings, to: str = "head") -> None:
    """Makes the tables, or brings them up to a revision: all of it or nothing."""
    with _alone(settings) as connection:
        command.upgrade(_config(connection), to)


def downgrade(settings: Settings, to: str) -> None:
    """Takes the tables back to an older revision, or to none ("base")."""
    with _alone(settings) as connection:
        command.downgrade(_config(connection), to)


def current(settings: Settings) -> str | None:
    """The revision of the database; None if it has no tables."""
    database = Database(settings.database_url)
    try:
        with database.reads.begin() as connection:
            return MigrationContext.configure(connection).get_current_revision()
    finally:
        database.close()


def is_current(settings: Settings) -> bool:
    """Whether the database is what this version of the program expects."""
    return current(settings) == ScriptDirectory.from_config(_config()).get_current_head()


@contextmanager
def _alone(settings: Settings) -> Iterator[Connection]:
    # SQLite copies a table to change it; the references to it are looked at when all is done.
    database = Database(settings.database_url, check_references=False)
    try:
        with database.writes.begin() as connection:
            if not database.sqlite:
                connection.execute(text(f"SELECT pg_advisory_xact_lock({ONE_AT_A_TIME})"))
            yield connection
            if database.sqlite and connection.execute(text("PRAGMA foreign_key_check")).first():
                raise RuntimeError("the migration left references that lead nowhere")
    finally:
        database.close()


def _config(connection: Connection | None = None) -> Config:
    config = Config()
    config.set_main_option("script_location", str(resource("migrations")).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config
