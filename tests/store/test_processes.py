"""Several processes on one database: one of them is first, and nothing acknowledged is lost."""

import pytest

from server.core.changes.places import KeepPlace
from server.settings import Settings
from server.store import Store, open_store
from tests.store.pressing import RUFUS, Process
from tests.store.worlds import kept
from tests.worlds import PROJECT, a_project


@pytest.fixture
def marked(store: Store) -> Store:
    """A house with a check that a crew has marked ready to look at."""
    return kept(
        store,
        a_project()
        .with_crew("Ninepail Plaster")
        .with_detail("Garden stair rail")
        .with_task("Set the stand-offs")
        .with_check("String", after="Set the stand-offs", marks="Ninepail Plaster")
        .with_attempt("String", marked_by_id="ninepail-plaster-lead")
        .snapshot(),
    )


def test_two_processes_release_one_check_and_the_second_is_told_who_was_first(
    marked: Store, migrated: Settings
) -> None:
    url = migrated.database_url
    with Process("release", url) as one, Process("release", url) as other:
        assert [one.line(), other.line()] == ["ready", "ready"]
        one.go()
        other.go()
        answers = sorted((one.line(), other.line()))
    assert answers == ["AlreadyReleased by Rufus Orme", "released"]
    releases = [row for row in marked.log(PROJECT) if row.commands == ("Release",)]
    assert len(releases) == 1
    [attempt] = marked.snapshot(PROJECT).attempts.values()
    assert (attempt.state, attempt.version) == ("released", 2)


def test_two_processes_writing_at_once_each_get_their_own_revision(
    house: Store, migrated: Settings
) -> None:
    places = [KeepPlace(id=f"p{n}", name=f"{n}", floor_id="main-floor") for n in range(10)]
    with Process("floors", migrated.database_url) as process:
        process.line()
        revisions = {house.apply(RUFUS, PROJECT, place).revision for place in places}
    logged = [row.revision for row in house.log(PROJECT, limit=10_000)]
    assert logged == list(range(max(r for r in logged if r), 0, -1))
    assert len(revisions) == 10
    assert len(house.snapshot(PROJECT).places) == 10


def test_what_was_acknowledged_is_there_after_kill_9(house: Store, migrated: Settings) -> None:
    with Process("floors", migrated.database_url) as process:
        acknowledged = [process.line() for _ in range(12)]
        acknowledged += process.kill()
    assert all(acknowledged)
    after = open_store(migrated)
    names = {floor.name for floor in after.snapshot(PROJECT).floors.values()}
    assert set(acknowledged) <= names
    # At most the one that was being written when it died is there without its word.
    assert len(names) - 2 - len(acknowledged) in (0, 1)
    entries = [row for row in after.log(PROJECT, limit=10_000) if row.commands == ("AddFloor",)]
    assert len(entries) == len(names) - 2
    after.close()
