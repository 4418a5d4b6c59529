"""What a change is shown to push is what it does: 200 changes, each compared after it was made.

The changes are made through one store and read by another. What differs is then found anew with
plain loops over the rows and the dates; `core.pushed` and `core.ripple` have no part in it.
"""

import shutil
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from server.core.changes import change
from server.core.changes.pushing import AgreePush, Hear
from server.core.ripple import Ripple, ripple
from server.core.schedule import Schedule
from server.core.warnings import found
from server.core.world import Booking, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.settings import Settings
from server.store import Store, open_store
from tests.store.random_houses import BEGIN, CLOSED, DRAWS, a_random_change, a_random_house
from tests.store.worlds import kept
from tests.worlds import actor

HOUSES, CHANGES = 20, 10


@dataclass(frozen=True)
class Made:
    """One change: what was shown, and the world that the other store read before and after it."""

    where: str
    shown: Ripple
    before: Snapshot
    after: Snapshot
    was: Schedule
    now: Schedule


@pytest.fixture(scope="module")
def made(migrated_sqlite: Path, tmp_path_factory: pytest.TempPathFactory) -> list[Made]:
    """Two hundred random changes in twenty random houses."""
    folder = tmp_path_factory.mktemp("ripple")
    shutil.copy(migrated_sqlite, folder)
    settings = Settings(data_dir=folder)
    store, other = open_store(settings), open_store(settings)
    changes = [one for seed in range(HOUSES) for one in _changes(store, other, seed)]
    store.close()
    other.close()
    return changes


def _changes(store: Store, other: Store, seed: int) -> Iterator[Made]:
    dice, at = Random(seed), BEGIN
    house = a_random_house(seed)
    kept(store, house)
    rufus, project = actor(house, f"h{seed}-rufus-orme"), house.project.id
    for number in range(CHANGES):
        id = f"h{seed}c{number}"
        at += timedelta(minutes=dice.choice([1, 7, 40, 300, 1440]))
        before = store.snapshot(project)
        commands = [a_random_change(before, dice, at, f"{id}a")]
        after = change(before, rufus, commands[0], at).after
        if dice.random() < 0.3:
            commands.append(a_random_change(after, dice, at, f"{id}b"))
            after = change(after, rufus, commands[1], at).after
        shown = ripple(before, after, status_of(at))
        read = other.snapshot(project)
        agreed = AgreePush(
            id=id,
            detail_id=dice.choice(list(before.details)),
            commands=tuple(commands),
            shown=shown.pushed.digest,
            cause=dice.choice(["", "Rain"]),
        )
        store.apply(rufus, project, agreed, at=at)
        real = other.snapshot(project)
        dates = forecast(read, status_of(at)), forecast(real, status_of(at))
        yield Made(f"{id}: {commands}", shown, read, real, *dates)
        if told := tuple(t.id for t in real.tellings.values() if t.heard is None):
            store.apply(rufus, project, Hear(telling_ids=told), at=at)


def working_days(first: date, second: date) -> int:
    """By how many days on which the site works the second is later."""
    if second < first:
        return -working_days(second, first)
    days = [first + timedelta(days=n) for n in range(1, (second - first).days + 1)]
    return len([day for day in days if day.weekday() < 5 and day not in CLOSED])


def ends(schedule: Schedule) -> dict[str, tuple[datetime, datetime]]:
    return {id: (schedule[id].early_start, schedule[id].early_finish) for id in schedule}


def test_the_activities_move_that_were_shown_and_no_others(made: list[Made]) -> None:
    for one in made:
        was, now = ends(one.was), ends(one.now)
        expected = {}
        for id in was.keys() | now.keys():
            if was.get(id) != now.get(id):
                both = id in was and id in now
                days = working_days(was[id][1].date(), now[id][1].date()) if both else 0
                expected[id] = (was.get(id), now.get(id), days)
        shown = {}
        for shift in one.shown.pushed.shifts:
            first, second = shift.move.before, shift.move.after
            shown[shift.activity_id] = (
                (first.early_start, first.early_finish) if first else None,
                (second.early_start, second.early_finish) if second else None,
                shift.days,
            )
        assert shown == expected, one.where


def test_the_details_and_the_house_finish_when_it_was_shown(made: list[Made]) -> None:
    for one in made:
        expected = {}
        for id in one.after.details:
            was = [one.was[a.id].early_finish for a in one.before.chain if a.detail_id == id]
            now = [one.now[a.id].early_finish for a in one.after.chain if a.detail_id == id]
            if max(was) != max(now):
                days = working_days(max(was).date(), max(now).date())
                expected[id] = (max(was), max(now), days)
        shown = {d.detail_id: (d.was, d.now, d.days) for d in one.shown.pushed.details}
        assert shown == expected, one.where
        was_done = max(finish for _, finish in ends(one.was).values())
        now_done = max(finish for _, finish in ends(one.now).values())
        assert (one.shown.was, one.shown.now) == (was_done, now_done), one.where
        assert one.shown.days == working_days(was_done.date(), now_done.date()), one.where


def wanted(visit: Booking | None, schedule: Schedule) -> bool:
    return (
        visit is not None
        and not visit.ended
        and visit.state in ("asked", "coming")
        and visit.finish > schedule.status
    )


def too_early_for(snapshot: Snapshot, schedule: Schedule, visit: Booking | None) -> str | None:
    """The task of a visit (all of these are for one) that is not ready on its day."""
    if visit is None or not wanted(visit, schedule):
        return None
    [id] = visit.activity_ids
    task = snapshot.activities[id]
    if task.started or task.ended or schedule[id].ready:
        return None
    return id if schedule[id].early_start.date() > visit.start.date() else None


def to_come(snapshot: Snapshot, schedule: Schedule, visit: Booking) -> bool:
    return wanted(visit, schedule) and not snapshot.activities[visit.activity_ids[0]].started


def visits_of(one: Made) -> dict[str, tuple[str, datetime | None, datetime | None]]:
    """What became of each visit, by its rows and the dates of its work."""
    became: dict[str, tuple[str, datetime | None, datetime | None]] = {}
    for id, visit in one.after.bookings.items():
        row = one.before.bookings.get(id)
        was_early = too_early_for(one.before, one.was, row)
        now_early = too_early_for(one.after, one.now, visit)
        [work] = visit.activity_ids
        if row is None:
            if wanted(visit, one.now):
                became[id] = ("asked", None, visit.start)
        elif wanted(row, one.now) and visit.ended:
            became[id] = ("ends", row.start, None)
        elif wanted(visit, one.now) and visit.start != row.start:
            became[id] = ("moves", row.start, visit.start)
        elif visit.state == "asked" and wanted(visit, one.now) and not wanted(row, one.now):
            became[id] = ("asked", row.start, visit.start)
        elif now_early and not was_early:
            became[id] = ("breaks", visit.start, one.now[work].early_start)
        elif was_early and not now_early and to_come(one.after, one.now, visit):
            became[id] = ("fits again", visit.start, visit.start)
    return became


def test_the_visits_are_touched_that_were_shown_and_no_others(made: list[Made]) -> None:
    for one in made:
        shown = {v.booking_id: (v.what, v.was, v.now) for v in one.shown.pushed.visits}
        assert shown == visits_of(one), one.where


def test_the_notes_come_and_go_that_were_shown_and_no_others(made: list[Made]) -> None:
    for one in made:
        was = {(w.rule, w.subject) for w in found(one.before, one.was)}
        now = {(w.rule, w.subject) for w in found(one.after, one.now)}
        assert {(w.rule, w.subject) for w in one.shown.come} == now - was, one.where
        assert {(w.rule, w.subject) for w in one.shown.go} == was - now, one.where


Told = tuple[str, str, tuple[str, ...], str | None, datetime | None, datetime | None]


def to_hear(one: Made) -> list[Told]:
    """What each crew has to hear, by the rows and the dates."""
    told: list[Told] = []
    touched = visits_of(one)
    for id, (what, was, now) in touched.items():
        visit = one.after.bookings[id]
        if what == "fits again":
            heard = [t for t in one.before.tellings.values() if t.booking_id == id]
            heard.sort(key=lambda t: t.at)
            if not heard or heard[-1].what != "breaks":
                continue
            what = "moves"
        told.append((visit.crew_id, what, visit.activity_ids, id, was, now))
    for detail_id in one.after.details:
        rows = [a for a in one.after.agreed.values() if a.detail_id == detail_id]
        newest = max((a.round for a in rows), default=0)
        moved: dict[str, list[tuple[datetime, int, str]]] = {}
        for id in {a.activity_id for a in rows if a.round == newest}:
            task = one.after.activities[id]
            if task.kind != "task" or task.started or task.ended:
                continue
            first, second = one.was[id].early_start, one.now[id].early_start
            if first.date() == second.date():
                continue
            for crew_id in filter(None, (task.crew_id, *task.with_crew_ids)):
                comes = [
                    visit
                    for visit in one.after.bookings.values()
                    if visit.crew_id == crew_id and id in visit.activity_ids
                    if wanted(visit, one.now) or visit.id in touched
                ]
                if not comes:
                    moved.setdefault(crew_id, []).append((second, task.order, id))
        for crew_id, works in moved.items():
            ids = tuple(id for _, _, id in sorted(works))
            times = one.was[ids[0]].early_start, one.now[ids[0]].early_start
            told.append((crew_id, "work", ids, None, *times))
    return told


def test_what_crews_must_hear_is_what_was_shown_and_what_is_written_down(made: list[Made]) -> None:
    for one in made:
        shown = [
            (h.crew_id, h.what, h.activity_ids, h.booking_id, h.was, h.now)
            for h in one.shown.pushed.hear
        ]
        written = [
            (t.crew_id, t.what, t.activity_ids, t.booking_id, t.was, t.now)
            for id, t in one.after.tellings.items()
            if id not in one.before.tellings
        ]
        expected = sorted(to_hear(one), key=str)
        assert sorted(shown, key=str) == expected, one.where
        assert sorted(written, key=str) == expected, one.where


def test_every_kind_of_change_and_of_consequence_is_among_them(made: list[Made]) -> None:
    assert len(made) == HOUSES * CHANGES
    commands = Counter(name for one in made for name in DRAWS if f"{name}(" in one.where)
    assert commands.keys() == DRAWS.keys()
    visits = Counter(v.what for one in made for v in one.shown.pushed.visits)
    assert visits.keys() == {"asked", "moves", "ends", "breaks", "fits again"}
    heard = Counter(h.what for one in made for h in one.shown.pushed.hear)
    assert heard.keys() == {"asked", "moves", "ends", "breaks", "work"}
    assert min(*visits.values(), *heard.values()) >= 3
    assert sum(bool(one.shown.come) for one in made) > 30
    assert sum(bool(one.shown.go) for one in made) > 30
    assert sum(one.shown.days > 0 for one in made) > 10
