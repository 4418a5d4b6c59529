"""The migrations make exactly the tables that the program declares, up and down, with data."""

from collections.abc import Iterator

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import inspect, text

from server.core.world import Company, WorkCalendar
from server.settings import Settings
from server.store import open_store
from server.store.engine import Database
from server.store.migrate import current, downgrade, is_current, upgrade
from server.store.tables import Base
from tests.store.worlds import everything, nouns_of


@pytest.fixture
def database(settings: Settings) -> Iterator[Database]:
    opened = Database(settings.database_url)
    yield opened
    opened.close()


def tables(database: Database) -> set[str]:
    with database.reads.begin() as connection:
        return set(inspect(connection).get_table_names())


def test_migrated_tables_equal_the_declared_ones(settings: Settings, database: Database) -> None:
    upgrade(settings)
    with database.reads.begin() as connection:
        context = MigrationContext.configure(
            connection,
            opts={
                "compare_type": True,
                "autogenerate_plugins": [
                    "alembic.autogenerate.*",
                    "alembic.ext.checkconstraint_byname",
                ],
            },
        )
        assert compare_metadata(context, Base.metadata) == []


def test_a_missing_check_constraint_would_be_noticed(
    settings: Settings, database: Database
) -> None:
    upgrade(settings)
    with database.reads.begin() as connection:
        checks = {
            f"{table}.{check['name']}"
            for table in tables(database)
            for check in inspect(connection).get_check_constraints(table)
        }
    declared = {
        f"{table.name}.{constraint.name}"
        for table in Base.metadata.sorted_tables
        for constraint in table.constraints
        if constraint.__visit_name__ == "table_or_column_check_constraint"
    }
    assert len(declared) > 8
    assert checks == declared


def test_up_down_and_up_again_with_data_in_every_table(
    settings: Settings, database: Database
) -> None:
    upgrade(settings)
    store = open_store(settings)
    world = everything()
    store.found_company(world.company, *(noun for noun in nouns_of(world) if noun != world.company))
    store.close()

    downgrade(settings, "base")
    assert tables(database) == {"alembic_version"}
    assert current(settings) is None

    upgrade(settings)
    assert is_current(settings)


def test_each_migration_goes_down_by_itself(settings: Settings, database: Database) -> None:
    upgrade(settings)
    for revision in ("0003", "0002", "0001"):
        downgrade(settings, revision)
        assert current(settings) == revision
    upgrade(settings)
    assert is_current(settings)


def test_a_calendar_that_followed_another_keeps_its_week_on_the_way_down(
    settings: Settings, database: Database
) -> None:
    upgrade(settings)
    site = WorkCalendar(id="site", company_id="c", name="Site", shifts=("0 07:00 12:00",))
    crew = WorkCalendar(id="crew", company_id="c", name="Crew", shifts=(), based_on_id="site")
    last = WorkCalendar(id="last", company_id="c", name="Last", shifts=(), based_on_id="crew")
    store = open_store(settings)
    store.found_company(Company(id="c", name="Tallow Creek"), site, crew, last)
    store.close()
    downgrade(settings, "0006")
    with database.reads.begin() as connection:
        weeks = set(connection.scalars(text("SELECT shifts FROM calendar")))
    assert weeks == {'["0 07:00 12:00"]'}
    upgrade(settings)


def test_a_new_database_is_not_current(settings: Settings) -> None:
    assert current(settings) is None
    assert not is_current(settings)


def test_a_migration_that_fails_leaves_nothing(
    settings: Settings, database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("server.store.migrating.the_log_only_grows", lambda: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        upgrade(settings)
    assert tables(database) == set()
