"""What every test can ask for: real databases, a real server, a real browser."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from server.settings import Settings
from server.store import Store, open_store
from server.store.migrate import upgrade
from tests.postgres import Postgres, running_postgres
from tests.servers import RunningServer, find_chromium

NOTHING_SKIPPED = os.environ.get("STAIRHOLD_NOTHING_SKIPPED") == "1"

# Debian's Chromium inside a container, quiet: no network of its own, no first-run pages.
CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


SLOW = frozenset({"browser", "cli", "test_wheel.py"})


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Long files first: of two that share the tests, none waits for the other at the end."""
    items.sort(key=lambda item: SLOW.isdisjoint(item.path.parts))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Any:
    """With STAIRHOLD_NOTHING_SKIPPED=1 a test that would be skipped fails, with its reason."""
    report = yield
    if NOTHING_SKIPPED and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped although nothing may be: {report.longrepr}"
    return report


@pytest.fixture(autouse=True)
def no_settings_from_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    """The shell that starts pytest does not choose the database."""
    for name in list(os.environ):
        if name.startswith("STAIRHOLD_") and name != "STAIRHOLD_NOTHING_SKIPPED":
            monkeypatch.delenv(name)


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """One PostgreSQL server for the whole run, with nothing to lose."""
    with running_postgres() as server:
        yield server


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of an empty database of its own, of each kind in turn."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path}/stairhold.db"
        return
    server: Postgres = request.getfixturevalue("postgres")
    with server.new_database() as url:
        yield url


@pytest.fixture
def settings(database_url: str, tmp_path: Path) -> Settings:
    """Settings with a data folder and an empty database of their own, once per kind."""
    return Settings(data_dir=tmp_path, database_url=database_url)


@pytest.fixture(scope="session")
def migrated_sqlite(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A SQLite file with all tables and nothing in them, to be copied."""
    folder = tmp_path_factory.mktemp("migrated")
    upgrade(Settings(data_dir=folder))
    return folder / "stairhold.db"


@pytest.fixture(scope="session")
def migrated_postgres(
    postgres: Postgres, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[str]:
    """The name of a PostgreSQL database with all tables and nothing in them, to be copied."""
    with postgres.new_database() as url:
        upgrade(Settings(data_dir=tmp_path_factory.mktemp("pg"), database_url=url))
        yield url.rpartition("/")[2]


@pytest.fixture(params=["sqlite", "postgresql"])
def migrated(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Settings]:
    """Settings with a database of their own that has all tables, once per kind."""
    if request.param == "sqlite":
        shutil.copy(request.getfixturevalue("migrated_sqlite"), tmp_path)
        yield Settings(data_dir=tmp_path)
        return
    server: Postgres = request.getfixturevalue("postgres")
    with server.new_database(template=request.getfixturevalue("migrated_postgres")) as url:
        yield Settings(data_dir=tmp_path, database_url=url)


@pytest.fixture
def store(migrated: Settings) -> Iterator[Store]:
    """A store with nobody in it, once per kind of database."""
    opened = open_store(migrated)
    yield opened
    opened.close()


@pytest.fixture
def running_server(tmp_path: Path, migrated_sqlite: Path) -> Iterator[RunningServer]:
    """A real server process on a free port, on SQLite, migrated and with nobody in it."""
    with RunningServer.started(tmp_path / "data", migrated=migrated_sqlite) as server:
        yield server


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """A Chromium for the whole run; a test opens its own context, with its own cookies."""
    executable = find_chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=executable, args=CHROMIUM_FLAGS)
        yield chromium
        chromium.close()
