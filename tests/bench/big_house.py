"""A large house for the bench: about 2,000 activities, the shipped patterns four times over.

The details begin one after the other, so that about a third of the work is done, some of it is
under way and the rest is to come; three that stand side by side hang together. What happened,
happened when it was forecast, but for what is late. Nothing is random: two runs build the same
house.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from server.core.changes import change
from server.core.changes.plan import AddDetailFromPattern
from server.core.patterns import Pattern
from server.core.schedule import Schedule
from server.core.world import Activity, Agreed, Attempt, Booking, Dependency, Noun, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.data.patterns import all_patterns
from tests.worlds import PROJECT, World, a_project, actor, id_of

TIMES = 4
BEGIN = datetime(2025, 6, 2, 7)
NOW = datetime(2025, 8, 14, 10, 52)
THIS_WEEK = datetime(2025, 8, 11)
APART = timedelta(days=2)
CREWS = {
    trade: f"Long Meadow {trade.capitalize()}"
    for trade in dict.fromkeys(trade for pattern in all_patterns() for trade in pattern.trades)
}


def big_house(times: int = TIMES, details: int | None = None) -> World:
    """The house on the morning of `NOW`, where its clock stands; only the first so many details."""
    world = a_project(BEGIN).with_changed("Tallow Creek", frozen_at=NOW)
    for trade, name in CREWS.items():
        world = world.with_crew(name, trade=trade, phone="555 0100")
    for role in ("architect", "engineer", "rep"):
        world = world.with_person(f"The {role}")
    planned = _details(world.snapshot(), (all_patterns() * times)[:details])
    begun = planned.put(*_facts(planned, forecast(planned, BEGIN)))
    status = forecast(begun, status_of(NOW))
    return World(begun.put(*_asked(begun, status), *_promised(begun, forecast(planned, BEGIN))))


def _details(snapshot: Snapshot, patterns: Sequence[Pattern]) -> Snapshot:
    """These patterns in turn, for the same crews."""
    crews = {trade: id_of(name) for trade, name in CREWS.items()}
    for number, pattern in enumerate(patterns):
        command = AddDetailFromPattern(
            id=f"detail-{number + 1}",
            name=f"{pattern.name} {number + 1}",
            sheet=f"D{number + 1}",
            content=pattern,
            crews=crews,
            people={role: id_of(f"The {role}") for role in pattern.roles},
            not_before=BEGIN + number * APART,
        )
        snapshot = change(snapshot, actor(snapshot), command, NOW).after
    return snapshot.put(*_ties(snapshot))


def _ties(snapshot: Snapshot) -> Iterator[Noun]:
    """What comes first in a detail comes before what comes last in the next, by threes."""
    details = [snapshot.chain_of(id) for id in snapshot.details]
    for number, (one, other) in enumerate(pairwise(details)):
        if number % 3 < 2:
            yield Dependency(
                id=f"tie-{number}", project_id=PROJECT, before_id=one[0].id, after_id=other[-1].id
            )


def _facts(snapshot: Snapshot, planned: Schedule) -> Iterator[Noun]:
    """What has happened by now: as planned, but for this week.

    No check of this week has been looked at, and some of its work still goes on. What comes after
    those is as late as they are, but for a few tasks that ran ahead.
    """
    late: set[str] = set()
    for number, activity in enumerate(snapshot.chain):
        dates = planned[activity.id]
        if any(d.before_id in late for d in snapshot.before.get(activity.id, ())):
            late.add(activity.id)
            if activity.kind != "task" or number % 7:
                continue
        if dates.early_start >= NOW or activity.kind == "wait":
            continue
        if dates.early_finish > THIS_WEEK and (activity.kind == "hold" or number % 3 == 0):
            late.add(activity.id)
            if activity.kind == "task":
                yield replace(activity, started=dates.early_start)
            continue
        yield from _happened(snapshot, activity, dates.early_start, dates.early_finish)


def _happened(
    snapshot: Snapshot, activity: Activity, start: datetime, finish: datetime
) -> Iterator[Noun]:
    done = finish if finish <= NOW else None
    match activity.kind:
        case "task":
            yield replace(activity, started=start, finished=done)
        case "delivery":
            yield replace(activity, ordered=start, finished=done, counted=done)
        case "decision" if done:
            yield replace(activity, started=done, finished=done, answer="As drawn")
        case "hold" if done:
            hold = snapshot.hold_of[activity.id]
            yield replace(activity, started=done, finished=done)
            yield Attempt(
                id=f"{hold.id}-1", project_id=PROJECT, hold_id=hold.id, no=1, state="released",
                marked_by_id="rufus-orme", marked_at=start, decided_by_id="rufus-orme",
                decided_at=done,
            )  # fmt: skip


def _asked(snapshot: Snapshot, schedule: Schedule) -> Iterator[Noun]:
    """Visits for the tasks of the next ten days, and marks on every other check that is ready."""
    for number, activity in enumerate(snapshot.chain):
        dates = schedule[activity.id]
        near = dates.early_start < NOW + timedelta(days=10)
        if activity.kind == "task" and activity.crew_id and not activity.started and near:
            start = max(dates.early_start, NOW)
            yield Booking(
                id=f"{activity.id}-visit", project_id=PROJECT, crew_id=activity.crew_id,
                activity_ids=(activity.id,), start=start, finish=start + timedelta(hours=8),
                state="asked" if number % 4 == 0 else "coming", asked_by_id="rufus-orme",
                asked_at=BEGIN,
            )  # fmt: skip
        hold = snapshot.hold_of.get(activity.id)
        if hold is not None and dates.ready and number % 2 == 0:
            yield Attempt(
                id=f"{hold.id}-1", project_id=PROJECT, hold_id=hold.id, no=1, state="marked",
                marked_by_id="rufus-orme", marked_at=NOW - timedelta(hours=3),
            )  # fmt: skip


def _promised(snapshot: Snapshot, planned: Schedule) -> Iterator[Noun]:
    """The dates of the plan as they were agreed to when it was made."""
    for activity in snapshot.chain:
        dates = planned[activity.id]
        yield Agreed(
            id=f"{activity.id}-agreed", project_id=PROJECT, activity_id=activity.id,
            detail_id=activity.detail_id, round=1, start=dates.early_start,
            finish=dates.early_finish, by_id="rufus-orme", at=BEGIN,
        )  # fmt: skip
