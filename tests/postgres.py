"""A real PostgreSQL server for a run of the tests, with nothing in it to lose."""

import contextlib
import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

import psycopg
import pytest

from tests.servers import free_port


@dataclass(frozen=True)
class Postgres:
    """A running PostgreSQL server on the loopback address."""

    port: int
    _numbers: "count[int]"

    def url(self, database: str) -> str:
        """The address of one of its databases, as STAIRHOLD_DATABASE_URL takes it."""
        return f"postgresql://postgres@127.0.0.1:{self.port}/{database}"

    @contextlib.contextmanager
    def new_database(self, template: str = "template1") -> Iterator[str]:
        """The address of a new database, a copy of `template`, dropped afterwards."""
        name = f"t{next(self._numbers)}"
        self.run(f'CREATE DATABASE "{name}" TEMPLATE "{template}"')
        try:
            yield self.url(name)
        finally:
            self.run(f'DROP DATABASE "{name}" WITH (FORCE)')

    def run(self, statement: str) -> None:
        """Runs one statement outside a transaction."""
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(statement.encode())


@contextlib.contextmanager
def running_postgres() -> Iterator[Postgres]:
    """A PostgreSQL server of our own, started in a temporary folder and gone afterwards."""
    programs = _postgres_programs()
    account = _postgres_account()
    # Not pytest's tmp_path: that is closed to the account the server runs under.
    folder = Path(tempfile.mkdtemp(prefix="stairhold-pg-"))
    if account:
        shutil.chown(folder, account)
    try:
        data = folder / "data"
        _run_as(account, programs / "initdb", "-D", data, "-U", "postgres", "-A", "trust",
                "-E", "UTF8", "--locale=C", "--no-sync")  # fmt: skip
        port = free_port()
        options = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} "
        # Only the tests' own server: nobody pulls its plug, so it need not wait for the disk.
        options += "-c fsync=off -c full_page_writes=off -c max_connections=200"
        control = (programs / "pg_ctl", "-D", data, "-w", "-l", folder / "log")
        _run_as(account, *control, "-o", options, "start")
        try:
            yield Postgres(port, count(1))
        finally:
            _run_as(account, *control, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _postgres_programs() -> Path:
    found = sorted(
        Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: float(path.parts[-3])
    )
    on_path = shutil.which("initdb")
    if on_path:
        found.append(Path(on_path))
    if not found:
        pytest.skip("PostgreSQL is not installed (apt install postgresql)")
    return found[-1].resolve().parent


def _postgres_account() -> str | None:
    if os.geteuid() != 0:
        return None
    for name in ("postgres", "nobody"):  # PostgreSQL refuses to run as root
        with contextlib.suppress(KeyError):
            return pwd.getpwnam(name).pw_name
    pytest.skip("PostgreSQL does not run as root and there is no account to run it under")


def _run_as(account: str | None, *command: object) -> None:
    # Output to a file, not a pipe: the server inherits it and would keep a pipe open for good.
    with tempfile.TemporaryFile() as output:
        done = subprocess.run(
            [str(part) for part in command],
            user=account,
            group=pwd.getpwnam(account).pw_gid if account else None,
            extra_groups=[] if account else None,
            cwd="/",
            stdout=output,
            stderr=subprocess.STDOUT,
            check=False,
        )
        if done.returncode != 0:
            output.seek(0)
            raise RuntimeError(f"{command[0]} failed:\n{output.read().decode(errors='replace')}")
