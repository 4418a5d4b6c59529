"""The log: what happened, who did it, what it changed; nothing ever taken away from it."""

from dataclasses import replace

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DatabaseError

from server.core.changes import Actor
from server.core.changes.places import AddFloor, KeepPlace
from server.core.changes.plan import AddDetail, AddSide
from server.core.world import Difference
from server.settings import Settings
from server.store import CannotKeep, Store
from server.store.engine import Database
from server.store.tables import LOG
from tests.store.logged import rows_of
from tests.worlds import PROJECT, on

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")
ATTIC = AddFloor(id="attic", name="Attic")


def texts(database: Database) -> list[str]:
    with database.reads.begin() as connection:
        return list(connection.scalars(LOG.select().with_only_columns(LOG.c.said)))


@pytest.mark.parametrize("statement", ["UPDATE log SET person_name = 'x'", "DELETE FROM log"])
def test_what_stands_in_the_log_can_neither_be_changed_nor_taken_away(
    house: Store, migrated: Settings, statement: str
) -> None:
    database = Database(migrated.database_url)
    before = texts(database)
    with (
        pytest.raises(DatabaseError, match="the log only grows"),
        database.writes.begin() as connection,
    ):
        connection.execute(text(statement))
    assert texts(database) == before != []
    database.close()


def test_a_revision_of_a_project_is_logged_once(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC)
    with house.reading() as connection:
        newest = LOG.select().order_by(LOG.c.revision.desc()).limit(1)
        row = dict(connection.execute(newest).one()._mapping)
    with pytest.raises(CannotKeep), house.writing() as connection:
        connection.execute(LOG.insert().values(row | {"id": "new", "company_revision": 99}))


def test_an_entry_keeps_the_rows_before_and_after(house: Store) -> None:
    loft = KeepPlace(id="loft", name="Loft", floor_id="main-floor")
    house.apply(RUFUS, PROJECT, loft)
    house.apply(RUFUS, PROJECT, KeepPlace(id="loft", name="Landing", floor_id="main-floor"))
    second, first, *_ = house.log(PROJECT)
    after = house.snapshot(PROJECT).places["loft"]
    before = replace(after, name="Loft", version=1)
    assert rows_of(house, first.id) == (Difference(None, before),)
    assert rows_of(house, second.id) == (Difference(before, after),)


def test_the_newest_entry_is_first_and_a_limit_takes_the_newest(house: Store) -> None:
    for name in ("a", "b", "c"):
        house.apply(RUFUS, PROJECT, AddFloor(id=name, name=name), at=on("Dec 3 10:52"))
    revisions = [row.revision for row in house.log(PROJECT)]
    assert revisions == [4, 3, 2, 1]
    assert [row.revision for row in house.log(PROJECT, limit=2)] == [4, 3]


def test_the_log_since_a_time_begins_there(house: Store) -> None:
    house.apply(RUFUS, PROJECT, AddFloor(id="a", name="a"), at=on("Jan 3 10:52"))
    house.apply(RUFUS, PROJECT, AddFloor(id="b", name="b"), at=on("Jan 4 10:52"))
    since = [row.at for row in house.log(PROJECT, since=on("Jan 4"))]
    assert on("Jan 4 10:52") in since
    assert on("Jan 3 10:52") not in since


def test_the_log_of_a_detail_has_its_entries_and_no_others(house: Store) -> None:
    for id in ("d1", "d11", "d_1"):
        house.apply(RUFUS, PROJECT, AddDetail(id=id, name=f"Rail {id}", sheet=id))
    house.apply(RUFUS, PROJECT, AddSide(id="s1", detail_id="d1", name="Stair side"))
    commands = [row.commands for row in house.log(PROJECT, detail_id="d1")]
    assert commands == [("AddSide",), ("AddDetail",)]
    assert len(house.log(PROJECT, detail_id="d_1")) == 1
    assert house.log(PROJECT, detail_id='"') == []


def test_names_are_kept_as_they_were_when_it_happened(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC)
    assert house.log(PROJECT)[0].person_name == "Rufus Orme"
