"""A database that is locked or away: a refusal, nothing kept, and it works again afterwards."""

from pathlib import Path

import pytest

from server.core.changes import Actor
from server.core.changes.places import AddFloor
from server.settings import Settings
from server.store import Store, Unavailable, open_store
from server.store import engine as engines
from server.store.migrate import upgrade
from server.store.tables import COMPANY
from tests.postgres import Postgres
from tests.servers import free_port
from tests.store.worlds import kept
from tests.worlds import PROJECT, a_project

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")
ATTIC = AddFloor(id="attic", name="Attic")


def test_a_lock_that_is_held_too_long_is_a_refusal_and_not_a_hang(
    house: Store, migrated: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engines, "PATIENCE_SECONDS", 1)
    impatient = open_store(migrated)
    with house.writing() as connection:
        connection.execute(COMPANY.select().with_for_update())
        with pytest.raises(Unavailable):
            impatient.apply(RUFUS, PROJECT, ATTIC)
        assert "attic" not in impatient.snapshot(PROJECT).floors
    assert "attic" in impatient.apply(RUFUS, PROJECT, ATTIC).after.floors
    impatient.close()


def test_a_reader_does_not_wait_for_a_writer(house: Store) -> None:
    with house.writing() as connection:
        connection.execute(COMPANY.update().values(revision=77))
        assert house.snapshot(PROJECT).company_revision == 1


def test_a_database_that_is_away_is_a_refusal() -> None:
    store = open_store(f"postgresql://postgres@127.0.0.1:{free_port()}/nobody")
    with pytest.raises(Unavailable):
        store.snapshot(PROJECT)


def test_connections_that_the_server_cut_are_made_again(
    postgres: Postgres, migrated_postgres: str
) -> None:
    with postgres.new_database(template=migrated_postgres) as url:
        store = kept(open_store(url), a_project().snapshot())
        store.snapshot(PROJECT)
        postgres.run(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
            f"WHERE datname = '{url.rpartition('/')[2]}'"
        )
        assert "attic" in store.apply(RUFUS, PROJECT, ATTIC).after.floors
        store.close()


def test_the_embedded_database_is_as_careful_as_it_is_said_to_be(tmp_path: Path) -> None:
    settings = Settings(data_dir=tmp_path)
    upgrade(settings)
    store = open_store(settings)
    with store.reading() as connection:
        pragmas = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one()
            for name in ("journal_mode", "foreign_keys", "synchronous")
        }
    store.close()
    assert pragmas == {"journal_mode": "wal", "foreign_keys": 1, "synchronous": 2}
