"""One database, SQLite or PostgreSQL, and its two kinds of transaction.

A read sees one moment of the database however many statements it runs: explicit BEGIN on SQLite
(in WAL mode), REPEATABLE READ READ ONLY on PostgreSQL. A write takes SQLite's only write lock at
once (BEGIN IMMEDIATE), so that it never reads what it cannot keep; on PostgreSQL whoever writes
locks the company's row first.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url

from server.store.refusals import translated

PATIENCE_SECONDS = 10
"""How long a transaction waits for another one before it is refused."""


class Database:
    """A pool of connections, and the transactions that run on it.

    `reads` and `writes` raise what the database raises; `reading` and `writing` raise refusals.
    `check_references` is off while tables are copied.
    """

    def __init__(self, url: str, *, check_references: bool = True) -> None:
        address = make_url(url)
        self.sqlite = address.get_backend_name() == "sqlite"
        if self.sqlite:
            self._pool = _sqlite(address, check_references)
            self.reads = self._pool.execution_options(begin="BEGIN")
            self.writes = self._pool.execution_options(begin="BEGIN IMMEDIATE")
        else:
            self._pool = _postgresql(address)
            self.reads = self._pool.execution_options(
                isolation_level="REPEATABLE READ", postgresql_readonly=True
            )
            self.writes = self._pool.execution_options(isolation_level="READ COMMITTED")

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One read transaction. Raises `Unavailable`."""
        with translated(), self.reads.begin() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One write transaction, committed when the block ends without an exception.

        Raises `Unavailable` or `CannotKeep`; nothing is kept then.
        """
        with translated(), self.writes.begin() as connection:
            yield connection

    def close(self) -> None:
        """Closes the connections that nobody uses."""
        self._pool.dispose()


def _postgresql(address: URL) -> Engine:
    return create_engine(
        address,
        pool_size=5,
        max_overflow=5,
        pool_timeout=PATIENCE_SECONDS,
        pool_pre_ping=True,  # the server may have been away since the last time
        connect_args={
            "connect_timeout": PATIENCE_SECONDS,
            "options": f"-c lock_timeout={PATIENCE_SECONDS}s -c timezone=UTC",
        },
    )


def _sqlite(address: URL, check_references: bool) -> Engine:
    if address.database:
        Path(address.database).parent.mkdir(parents=True, exist_ok=True)
    engine = create_engine(
        address,
        pool_size=5,
        max_overflow=5,
        pool_timeout=PATIENCE_SECONDS,
        connect_args={"timeout": PATIENCE_SECONDS},
    )

    def prepare(connection: Any, _record: object) -> None:
        # Python's sqlite3 would begin transactions by itself, and only before a write.
        connection.isolation_level = None
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute(f"PRAGMA foreign_keys={'ON' if check_references else 'OFF'}")

    event.listen(engine, "connect", prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options()["begin"])
