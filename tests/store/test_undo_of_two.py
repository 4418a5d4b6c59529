"""Two people plan one house at random, then one of them undoes it all.

What the other left stays as it was left, or the undoing is refused by a name; what is undone can be
done again; and there is always a world that dates and notes can be made of.
"""

import shutil
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from server.core.changes import Actor, change
from server.core.changes.undoing import NotPutBack, Redo, Undo
from server.core.refusals import Refusal
from server.core.undoable import UNDOABLE
from server.core.warnings import found
from server.core.world import TABLES, Noun, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.settings import Settings
from server.store import ChangedBySomebody, Store, open_store
from server.store.load import load_at, project_revisions
from server.words import say
from tests.store.logged import company_entries, rows_of
from tests.store.random_plans import INES, RUFUS, a_change, a_planned_house
from tests.store.worlds import kept
from tests.worlds import COMPANY, PROJECT, actor, on

CHANGES = 50
SEEDS = range(8)
BEGIN = on("Dec 3 10:52")
Rows = dict[tuple[str, str], Noun | None]


@pytest.fixture
def planned(store: Store) -> Store:
    """The house of the two, once per kind of database."""
    return kept(store, a_planned_house())


@pytest.fixture
def here(migrated_sqlite: Path, tmp_path: Path) -> Iterator[Store]:
    """The house of the two, on SQLite."""
    shutil.copy(migrated_sqlite, tmp_path)
    store = open_store(Settings(data_dir=tmp_path))
    yield kept(store, a_planned_house())
    store.close()


def who_is(store: Store, id: str) -> Actor:
    return actor(store.snapshot(PROJECT), id)


def pressed(store: Store, who: str, at: datetime, *, again: bool = False) -> bool:
    """The person undoes (or does again) what is next; False if there is nothing."""
    turns = store.turns(who, COMPANY, PROJECT)
    row = turns.redo if again else turns.undo
    if row is None:
        return False
    command = Redo(entry_id=row.id) if again else Undo(entry_id=row.id)
    store.apply(who_is(store, who), PROJECT, command, at=at)
    return True


def plan(store: Store, dice: Random, people: tuple[str, ...]) -> datetime:
    """Fifty changes by these people, some of them undone or done again; what time it is then."""
    at = BEGIN
    for number in range(CHANGES):
        who, at = dice.choice(people), at + timedelta(minutes=dice.choice([5, 60, 400]))
        if dice.random() < 0.15:
            with suppress(Refusal):
                pressed(store, who, at, again=dice.random() < 0.5)
            continue
        command = a_change(store.snapshot(PROJECT), who, dice, at, f"n{number}")
        store.apply(who_is(store, who), PROJECT, command, at=at)
    return at


def rows(snapshot: Snapshot) -> dict[tuple[str, str], Noun]:
    """All rows but the evenings that are kept along, without their versions."""
    return {
        (name, id): replace(noun, version=0)
        for name in TABLES.values()
        if name != "finishes"
        for id, noun in getattr(snapshot, name).items()
    }


def left_by(store: Store, who: str) -> Rows:
    """Every row that this person was the last to touch, as it was left (None: taken out).

    What was undone, and its undoing, touched nothing.
    """
    left: dict[tuple[str, str], tuple[str | None, Noun | None]] = {}
    entries = company_entries(store, COMPANY)
    put_back = {entry.of_id for entry in entries}
    for entry in reversed(entries):
        if entry.id in put_back or entry.commands == ("Undo",):
            continue
        for difference in rows_of(store, entry.id):
            one = difference.after or difference.before
            assert one is not None
            row = difference.after and replace(difference.after, version=0)
            left[TABLES[type(one)], one.id] = entry.person_id, row
    return {key: row for key, (by, row) in left.items() if by == who and key[0] != "finishes"}


def followed_by(snapshot: Snapshot, id: str) -> list[str]:
    """The calendars that a calendar follows, and, if that goes round, where it comes back to."""
    ids: list[str] = []
    next_id = snapshot.calendars[id].based_on_id
    while next_id is not None:
        ids.append(next_id)
        if next_id in ids[:-1]:
            break
        next_id = snapshot.calendars[next_id].based_on_id
    return ids


def is_whole(snapshot: Snapshot, at: datetime) -> None:
    """Dates and notes can be made of it, and nothing points to what is not there."""
    for id in snapshot.calendars:
        assert id not in followed_by(snapshot, id)
    schedule = forecast(snapshot, status_of(at))
    found(snapshot, schedule, plan=True)
    for layer in snapshot.layers.values():
        named = [part for e in snapshot.effects_on.get(layer.id, ()) for part in e.parts]
        assert max(named, default=0) <= layer.parts
    for dependency in snapshot.dependencies.values():
        ends = (snapshot.activities[id] for id in (dependency.before_id, dependency.after_id))
        assert not any(activity.ended for activity in ends)
    for activity in snapshot.chain:
        crews = (snapshot.crews[id] for id in (activity.crew_id, *activity.with_crew_ids) if id)
        assert activity.finished or not any(crew.ended for crew in crews)
        done = Counter((e.layer_id, e.verb) for e in snapshot.effects_of.get(activity.id, ()))
        assert max(done.values(), default=1) == 1
        assert not [id for id, verb in done if verb == "covers" and (id, "puts in") in done]
    for layer in snapshot.layers.values():
        assert not (layer.ended and layer.id in snapshot.effects_on)
    stacked = Counter((x.side_id, x.order) for x in snapshot.layers.values() if not x.ended)
    assert max(stacked.values(), default=1) == 1
    tells = [(e.activity_id, e.layer_id) for e in snapshot.effects.values()]
    tells += [(h.activity_id, id) for h in snapshot.holds.values() for id in h.layer_ids]
    for activity_id, layer_id in tells:
        activity, layer = snapshot.activities[activity_id], snapshot.layers[layer_id]
        assert activity.detail_id == layer.detail_id
    for table in ("details", "own_patterns", "calendars", "floors", "places", "ways", "crews"):
        standing = [x for x in getattr(snapshot, table).values() if not getattr(x, "ended", None)]
        names = Counter(x.name.casefold() for x in standing)
        assert max(names.values(), default=1) == 1, table


@dataclass
class Undone:
    """How many changes were undone before the refusal, if there was one."""

    count: int
    refused: Refusal | None


def undo_all(store: Store, who: str, at: datetime) -> Undone:
    count = 0
    while True:
        before = store.snapshot(PROJECT)
        try:
            if not pressed(store, who, at):
                return Undone(count, None)
        except NotPutBack as refused:
            undone = Undone(count, refused)
            break
        is_whole(store.snapshot(PROJECT), at)
        count += 1
    assert store.snapshot(PROJECT) == before
    return undone


def two(store: Store, seed: int) -> Undone:
    at = plan(store, Random(seed), (RUFUS, INES))
    before, hers = store.snapshot(PROJECT), left_by(store, INES)
    undone = undo_all(store, RUFUS, at)
    after = rows(store.snapshot(PROJECT))
    assert {key: after.get(key) for key in hers} == hers
    if undone.refused is not None:
        is_named(undone.refused, before)
    for _ in range(undone.count):
        assert pressed(store, RUFUS, at, again=True)
        is_whole(store.snapshot(PROJECT), at)
    assert rows(store.snapshot(PROJECT)) == rows(before)
    with store.reading() as connection:
        assert load_at(
            connection, project_revisions(connection, PROJECT), PROJECT
        ) == store.snapshot(PROJECT)
    versions_only_grow(store)
    return undone


def is_named(refused: Refusal, snapshot: Snapshot) -> None:
    """It says what is in the way by a name, and who changed that and how.

    That no dates could be worked out is nobody's row; the dates say why.
    """
    said = say(refused.message)
    if refused.id == "undo.no_dates":
        return
    assert isinstance(refused, ChangedBySomebody), said
    assert f"{refused.entry.person_name}, " in said
    why, _, _ = said.partition(f" {refused.entry.person_name}, ")
    named = [getattr(noun, "name", "") for noun in rows(snapshot).values()]
    assert "“" in why or any(name and name in why for name in named), said


def versions_only_grow(store: Store) -> None:
    """A row that comes back is not the version that somebody may have seen before."""
    seen: dict[tuple[str, str], int] = {}
    for entry in reversed(company_entries(store, COMPANY)):
        for difference in rows_of(store, entry.id):
            row = difference.after
            if row is None or TABLES[type(row)] == "finishes":
                continue
            key = TABLES[type(row)], row.id
            assert entry.of_id is None or row.version > seen.get(key, 0), key
            seen[key] = row.version


@pytest.mark.parametrize("seed", SEEDS)
def test_undoing_all_of_ones_changes_leaves_the_others_alone(here: Store, seed: int) -> None:
    two(here, seed)


@pytest.mark.parametrize("seed", [100, 101])
def test_it_is_the_same_on_every_database(planned: Store, seed: int) -> None:
    two(planned, seed)


@pytest.mark.parametrize("seed", SEEDS)
def test_when_nobody_else_changed_anything_the_first_world_comes_back(
    here: Store, seed: int
) -> None:
    first = rows(here.snapshot(PROJECT))
    dice = Random(seed)
    at = plan_only(here, dice)
    last = rows(here.snapshot(PROJECT))
    undone = undo_all(here, RUFUS, at)
    assert undone.refused is None
    assert rows(here.snapshot(PROJECT)) == first != last
    while pressed(here, RUFUS, at, again=True):
        pass
    assert rows(here.snapshot(PROJECT)) == last
    versions_only_grow(here)


def plan_only(store: Store, dice: Random) -> datetime:
    """Fifty changes by one person of what can be undone."""
    at, made = BEGIN, 0
    while made < CHANGES:
        command = a_change(store.snapshot(PROJECT), RUFUS, dice, at, f"n{made}-{dice.random()}")
        if type(command).__name__ not in UNDOABLE:
            continue
        at += timedelta(minutes=dice.choice([5, 60, 400]))
        store.apply(who_is(store, RUFUS), PROJECT, command, at=at)
        made += 1
    return at


def test_every_command_that_can_be_undone_is_among_them() -> None:
    """So a command that is added to the table has to be drawn here too."""
    drawn = set()
    for seed in range(40):
        dice, snapshot = Random(seed), a_planned_house()
        for number in range(30):
            command = a_change(snapshot, RUFUS, dice, BEGIN, f"n{number}")
            snapshot = change(snapshot, actor(snapshot, RUFUS), command, BEGIN).after
            drawn.add(type(command).__name__)
    assert drawn >= UNDOABLE
    assert drawn - UNDOABLE
