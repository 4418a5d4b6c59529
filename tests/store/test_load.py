"""A read sees one moment, in the same number of statements whatever the project holds."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from sqlalchemy import Connection, event

from server.core.changes import Actor
from server.core.changes.places import AddFloor, KeepPlace
from server.core.refusals import Refusal
from server.core.world import TABLES, Floor, Snapshot
from server.settings import Settings
from server.store import Store, open_store
from server.store.load import load_at, project_revisions
from tests.store.worlds import everything, kept
from tests.worlds import PROJECT, World, a_project

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")


ATTIC = AddFloor(id="attic", name="Attic")
LOFT = KeepPlace(id="loft", name="Loft", floor_id="attic")


def read_from(connection: Connection, project_id: str) -> Snapshot:
    """A project with all it shares with its company, as this transaction sees it."""
    return load_at(connection, project_revisions(connection, project_id), project_id)


@contextmanager
def statements(connection: Connection) -> Iterator[list[str]]:
    """The statements that run on a connection, as they come."""
    ran: list[str] = []

    def note(_c: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        ran.append(statement)

    event.listen(connection, "after_cursor_execute", note)
    yield ran
    event.remove(connection, "after_cursor_execute", note)


def with_details(count: int) -> World:
    world = a_project().with_crew("Ninepail Plaster")
    for number in range(count):
        world = (
            world.with_detail(f"Detail {number}")
            .with_layer(f"Board {number}")
            .with_task(f"Hang {number}", crew="Ninepail Plaster", puts_in=f"Board {number}")
            .with_check(f"Look {number}", after=f"Hang {number}")
            .with_ask("Height", low="1", high="2")
        )
    return world


def test_a_commit_between_two_queries_of_a_load_changes_nothing_in_it(
    house: Store, migrated: Settings
) -> None:
    before = house.snapshot(PROJECT)
    writer = open_store(migrated)
    with house.reading() as connection:
        ran: list[str] = []

        def change_meanwhile(_c: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
            ran.append(statement)
            if len(ran) == 3:
                writer.apply(RUFUS, PROJECT, ATTIC, LOFT)

        event.listen(connection, "after_cursor_execute", change_meanwhile)
        read = read_from(connection, PROJECT)
    writer.close()
    assert len(ran) > 20
    assert read == before
    after = house.snapshot(PROJECT)
    assert after != before
    assert {"loft"} == set(after.places)


def test_forty_details_take_as_many_queries_as_one(store: Store) -> None:
    counts = []
    kept(store, with_details(1).snapshot())
    with store.reading() as connection, statements(connection) as ran:
        assert len(read_from(connection, PROJECT).details) == 1
    counts.append(len(ran))
    other = everything(1, each=40, prefix="x-")
    kept(store, other)
    with store.reading() as connection, statements(connection) as ran:
        assert (
            len(
                load_at(
                    connection, project_revisions(connection, other.project.id), other.project.id
                ).details
            )
            == 40
        )
    counts.append(len(ran))
    assert counts == [1 + len(TABLES)] * 2


def test_a_project_that_has_not_changed_is_not_loaded_again(house: Store) -> None:
    assert house.snapshot(PROJECT) is house.snapshot(PROJECT)


def test_a_change_is_not_loaded_again_by_the_process_that_made_it(house: Store) -> None:
    applied = house.apply(RUFUS, PROJECT, ATTIC)
    assert house.snapshot(PROJECT) is applied.after


def test_a_change_by_another_process_is_seen_at_the_next_read(
    house: Store, migrated: Settings
) -> None:
    house.snapshot(PROJECT)
    another = open_store(migrated)
    another.apply(RUFUS, PROJECT, ATTIC)
    another.close()
    assert "attic" in house.snapshot(PROJECT).floors


def test_a_change_that_was_refused_is_not_kept_in_the_process(house: Store) -> None:
    before = house.snapshot(PROJECT)
    with pytest.raises(Refusal):
        house.apply(RUFUS, PROJECT, ATTIC, ATTIC)
    assert house.snapshot(PROJECT) is before


def test_it_is_found_in_which_project_a_thing_is(house: Store) -> None:
    assert house.where_is(Floor, "main-floor") == PROJECT
    assert house.where_is(Floor, "nowhere") is None
    assert house.company_of(PROJECT) == "tallow-creek"


def test_a_person_finds_the_projects_given_to_them(house: Store) -> None:
    found = house.projects("tallow-creek", given_to="ninepail-plaster-lead")
    assert [project.id for project in found] == [PROJECT]
    assert house.projects("tallow-creek", given_to="rufus-orme") == ()
    assert house.projects("other") == ()
