"""Starts the real things that tests run against: Stairhold itself, and Chromium."""

import contextlib
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Self

import pytest

PATIENCE = 120.0  # seconds to wait for a server to come up before a test gives up on it


def free_port() -> int:
    """A loopback port that nobody listens on at the moment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@dataclass
class RunningServer:
    """`stairhold serve` in a process of its own. Killing it is allowed.

    `python` is the interpreter it runs under: of this checkout, or of some virtualenv.
    """

    data_dir: Path
    database_url: str
    port: int
    python: Path | None = None
    verb: tuple[str, ...] = ("serve",)
    process: "subprocess.Popen[bytes] | None" = None

    @property
    def base_url(self) -> str:
        """The address it answers on."""
        return f"http://127.0.0.1:{self.port}"

    @classmethod
    @contextlib.contextmanager
    def started(
        cls,
        data_dir: Path,
        database_url: str | None = None,
        python: Path | None = None,
        *,
        migrated: Path | None = None,
    ) -> Iterator[Self]:
        """A server that answers, on a copy of a `migrated` database or one migrated first."""
        data_dir.mkdir(parents=True, exist_ok=True)
        url = database_url or f"sqlite:///{data_dir}/stairhold.db"
        server = cls(data_dir, url, free_port(), python)
        if migrated is None:
            server.command("migrate")
        else:
            shutil.copy(migrated, data_dir / "stairhold.db")
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
                [*self._stairhold, *self.verb],
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


@dataclass
class DemoServer(RunningServer):
    """`stairhold demo` in a process of its own, and who can come in."""

    @classmethod
    @contextlib.contextmanager
    def playing(cls, folder: Path, python: Path | None = None) -> Iterator[Self]:
        """The demo, played into this folder, and served."""
        port = free_port()
        verb = ("demo", "--folder", str(folder / "demo"), "--port", str(port))
        server = cls(folder, "", port, python, verb)
        server.start()
        try:
            yield server
        finally:
            server.stop()

    @property
    def sign_in(self) -> dict[str, str]:
        """The super's name and password, as they are printed."""
        found = re.search(r"name (\S+), password (\S+)", self.log_file.read_text())
        assert found, "the demo did not say how the super signs in"
        return {"login": found[1], "password": found[2]}

    @property
    def links(self) -> dict[str, str]:
        """The paths of the links of a crew's lead and of a rep, as they are printed."""
        crew, rep = re.findall(rf"{self.base_url}(/l/\S+)", self.log_file.read_text())
        return {"crew": crew, "rep": rep}


def find_chromium() -> str:
    """The path of a Chromium that is installed; without one the test is skipped."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        found = shutil.which(name)
        if found:
            return found
    pytest.skip("Chromium is not installed (apt install chromium)")
