"""What is written is what is read: every field of every noun, on both databases."""

from dataclasses import fields

import pytest

from server.core.world import TABLES, Noun, differences
from server.settings import Settings
from server.store import Store, open_store
from server.store.tables import NOUNS
from tests.store.worlds import everything, nouns_of


@pytest.mark.parametrize("noun", TABLES, ids=lambda noun: noun.__name__)
def test_a_table_has_a_column_for_each_field_and_no_other(noun: type[Noun]) -> None:
    the_stores_own = {"revision"} if TABLES[noun] in ("companies", "projects") else {"company_id"}
    columns = set(NOUNS[noun].columns.keys())
    names = {field.name for field in fields(noun)}
    assert columns - names <= the_stores_own
    assert names <= columns


@pytest.mark.parametrize("noun", TABLES, ids=lambda noun: noun.__name__)
def test_a_column_may_be_empty_exactly_if_the_field_may_be_none(noun: type[Noun]) -> None:
    may_be_none = {field.name for field in fields(noun) if "None" in str(field.type)}
    nullable = {column.name for column in NOUNS[noun].columns if column.nullable}
    assert nullable == may_be_none


@pytest.mark.parametrize("seed", range(3))
def test_a_world_of_everything_is_read_as_it_was_written(store: Store, seed: int) -> None:
    world = everything(seed)
    store.found_company(world.company, *nouns_of(world)[1:])
    assert list(differences(world, store.snapshot(world.project.id))) == []


def test_a_world_is_read_in_the_order_of_its_rows(store: Store) -> None:
    world = everything(7, each=5)
    store.found_company(world.company, *nouns_of(world)[1:])
    read = store.snapshot(world.project.id)
    for name in TABLES.values():
        nouns = list(getattr(read, name).values())
        assert nouns == sorted(nouns, key=lambda noun: (getattr(noun, "order", 0), noun.id))


def test_another_project_and_company_beside_it_are_not_read(store: Store) -> None:
    world, other = everything(1), everything(2, prefix="other-")
    store.found_company(world.company, *nouns_of(world)[1:])
    store.found_company(other.company, *nouns_of(other)[1:])
    assert list(differences(other, store.snapshot(other.project.id))) == []


def test_a_company_is_read_without_its_projects(store: Store) -> None:
    world = everything(1)
    store.found_company(world.company, *nouns_of(world)[1:])
    company = store.company_snapshot(world.company.id)
    assert (company.crews, company.people) == (world.crews, world.people)
    assert not company.projects
    assert not company.details


def test_another_process_reads_the_same(store: Store, migrated: Settings) -> None:
    world = everything(3)
    store.found_company(world.company, *nouns_of(world)[1:])
    another = open_store(migrated)
    assert another.snapshot(world.project.id) == store.snapshot(world.project.id)
    another.close()
