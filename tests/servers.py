"""Starts the real things that tests run against: PostgreSQL, Stairhold itself, Chromium."""

import contextlib
import os
import pwd
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Self

import psycopg
import pytest

PATIENCE = 30.0  # seconds to wait for a server to come up before a test gives up on it


def free_port() -> int:
    """A loopback port that nobody listens on at the moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


# --- PostgreSQL ---------------------------------------------------------------------------------


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


# --- Stairhold ----------------------------------------------------------------------------------


@dataclass
class RunningServer:
    """`stairhold serve` in a process of its own. Killing it is allowed.

    `python` is the interpreter it runs under: of this checkout, or of some virtualenv.
    """

    data_dir: Path
    database_url: str
    port: int
    python: Path | None = None
    process: "subprocess.Popen[bytes] | None" = None

    @property
    def base_url(self) -> str:
        """The address it answers on."""
        return f"http://127.0.0.1:{self.port}"

    @classmethod
    @contextlib.contextmanager
    def started(
        cls, data_dir: Path, database_url: str | None = None, python: Path | None = None
    ) -> Iterator[Self]:
        """A server that answers, on a database that is migrated first."""
        data_dir.mkdir(parents=True, exist_ok=True)
        url = database_url or f"sqlite:///{data_dir}/stairhold.db"
        server = cls(data_dir, url, free_port(), python)
        server.command("migrate")
        server.start()
        try:
            yield server
        finally:
            server.stop()

    def command(self, *words: str) -> str:
        """What `stairhold WORDS` prints, run on this server's data."""
        done = subprocess.run(
            [*self._stairhold, *words],
            env=self._environment(),
            cwd=self.data_dir,
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode != 0:
            raise RuntimeError(f"stairhold {' '.join(words)} failed:\n{done.stdout}{done.stderr}")
        return done.stdout

    def start(self) -> None:
        """Starts the process (again) on the same port and data, and waits until it answers."""
        with self.log_file.open("ab") as log:
            self.process = subprocess.Popen(
                [*self._stairhold, "serve"],
                env=self._environment(),
                cwd=self.data_dir,
                stdout=log,
                stderr=log,
            )
        deadline = time.monotonic() + PATIENCE
        while not self._answers():
            if self.process.poll() is not None or time.monotonic() > deadline:
                self.kill()
                raise RuntimeError(f"the server did not come up:\n{self.log_file.read_text()}")
            time.sleep(0.05)

    def kill(self) -> None:
        """Kill -9: no goodbye, nothing flushed."""
        if self.process:
            self.process.kill()
            self.process.wait()
            self.process = None

    def stop(self) -> None:
        """Asks it to end, and waits until it has."""
        if self.process:
            self.process.terminate()
            try:
                self.process.wait(PATIENCE)
            except subprocess.TimeoutExpired:
                self.kill()
            self.process = None

    @property
    def log_file(self) -> Path:
        """What the server printed, over all its starts."""
        return self.data_dir / "server.log"

    @property
    def _stairhold(self) -> list[str]:
        return [str(self.python or sys.executable), "-m", "server.cli"]

    def _environment(self) -> dict[str, str]:
        checkout = str(Path(__file__).parent.parent)
        return os.environ | {
            "PYTHONPATH": "" if self.python else checkout,
            "STAIRHOLD_DATA_DIR": str(self.data_dir),
            "STAIRHOLD_DATABASE_URL": self.database_url,
            "STAIRHOLD_PORT": str(self.port),
        }

    def _answers(self) -> bool:
        try:
            urllib.request.urlopen(self.base_url + "/", timeout=5).close()
        except urllib.error.HTTPError as error:
            error.close()
        except OSError:
            return False
        return True


# --- Chromium -----------------------------------------------------------------------------------


def find_chromium() -> str:
    """The path of a Chromium that is installed; without one the test is skipped."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        found = shutil.which(name)
        if found:
            return found
    pytest.skip("Chromium is not installed (apt install chromium)")
