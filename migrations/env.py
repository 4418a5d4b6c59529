"""Run by alembic: hands it the tables and a connection.

`server.store.migrate` passes the connection it holds. The `alembic` command, used in a checkout
to write a new migration, brings none: then the settings say which database.
"""

from typing import Any

from alembic import context
from sqlalchemy import Connection, create_engine

from server.settings import Settings
from server.store.tables import Base


def run(connection: Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        compare_type=True,
        # SQLite cannot change a column in place: alembic copies the table instead.
        render_as_batch=connection.dialect.name == "sqlite",
    )
    with context.begin_transaction():
        context.run_migrations()


def given_connection() -> Connection | None:
    attributes: dict[str, Any] = context.config.attributes
    connection: Connection | None = attributes.get("connection")
    return connection


if context.is_offline_mode():
    raise SystemExit("Migrations run against a database, not into a script.")

given = given_connection()
if given is not None:
    run(given)
else:
    with create_engine(Settings().database_url).connect() as opened:
        run(opened)
