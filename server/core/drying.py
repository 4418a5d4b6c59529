"""Wet work and how long it stays wet: by the waits behind it, and by readings."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from server.core.climate import APART, air_of, moving, place_of, series, settled
from server.core.schedule import Schedule
from server.core.states import open_before
from server.core.states.before import binding
from server.core.wanted_air import DRIES_SMALL, Wanted, wanted_by
from server.core.world import Activity, Reading, Snapshot


@dataclass(frozen=True)
class Dry:
    """When a coat is dry or hard, at the earliest.

    `wait` is the last wait behind it, None where nobody drew one. `moves` is the newest reading of
    plaster there that still changes, taken since the coat was done.
    """

    coat: Activity
    at: datetime
    wait: Activity | None
    moves: Reading | None


def stuff_of(snapshot: Snapshot, work: Activity) -> str:
    """What wet work is made of: as it says itself, else as a wait right behind it does."""
    waits = (w.stuff for w in waits_behind(snapshot, work) if w.stuff)
    return work.stuff or next(waits, "")


def waits_behind(snapshot: Snapshot, work: Activity) -> tuple[Activity, ...]:
    """The waits that begin when something is done, and those right behind these."""
    found: dict[str, Activity] = {}
    open_ids = [work.id]
    while open_ids:
        for d in snapshot.after.get(open_ids.pop(), ()):
            wait = snapshot.activities[d.after_id]
            if wait.kind != "wait" or wait.id in found or d.type[0] != "F":
                continue
            if wait.ended is None and snapshot.details[wait.detail_id].ended is None:
                found[wait.id] = wait
                open_ids.append(wait.id)
    return tuple(found.values())


def dry(
    snapshot: Snapshot, schedule: Schedule, coat: Activity, until: datetime | None = None
) -> Dry:
    """When a coat is dry: its waits are over by the clock, or readings have stopped changing.

    While they change it is not, whatever the clock says: two days after the newest at the earliest.
    Where no wait is drawn it takes as long as its stuff wants. With `until`, by the readings taken
    up to then.
    """
    done = coat.finished or schedule[coat.id].early_finish
    waits = waits_behind(snapshot, coat)
    last = max(waits, key=lambda w: _over(schedule, w), default=None)
    wanted = wanted_by(stuff_of(snapshot, coat))
    least = done + wanted.between
    at = max(least, _over(schedule, last) if last else done + wanted.after)
    place_id = place_of(snapshot, coat)
    if coat.finished is None or place_id is None:
        return Dry(coat, at, last, None)
    found = series(snapshot, place_id, "plaster", coat.finished, until)
    moves = moving(found)
    if moves is not None:
        return Dry(coat, max(at, moves.at + APART), last, moves)
    if found and all(settled(readings) for readings in found):
        at = min(at, max(least, *(readings[-1].at for readings in found)))
    return Dry(coat, at, last, None)


def wet_in_air(snapshot: Snapshot, place_id: str) -> tuple[Activity, ...]:
    """The wet work that gives its water to the air of a place, in the order of the chains."""
    places = air_of(snapshot, place_id)
    return tuple(
        a
        for a in snapshot.chain
        if a.kind == "task" and a.wet and place_of(snapshot, a) in places
        if stuff_of(snapshot, a) not in DRIES_SMALL
    )


def coats_before(snapshot: Snapshot, work: Activity) -> tuple[Activity, ...]:
    """The wet tasks before a task with only waits, checks and the like in between."""
    found: dict[str, Activity] = {}
    seen = {work.id}
    open_ids = [work.id]
    while open_ids:
        for dependency in binding(snapshot, open_ids.pop()):
            before = snapshot.activities[dependency.before_id]
            if before.id in seen:
                continue
            seen.add(before.id)
            if before.kind == "task" and before.wet:
                found[before.id] = before
            elif before.kind not in ("task", "delivery"):
                open_ids.append(before.id)
    return tuple(found.values())


def curing(snapshot: Snapshot, schedule: Schedule) -> Iterator[tuple[Activity, Wanted]]:
    """What is put on and not dry yet, and what it wants: a task, or a wait with a stuff."""
    status = schedule.status
    named: set[str] = set()
    for task in snapshot.chain:
        if task.kind == "task" and task.wet:
            named |= {wait.id for wait in waits_behind(snapshot, task)}
            if task.finished is not None and dry(snapshot, schedule, task).at > status:
                yield task, wanted_by(stuff_of(snapshot, task))
    for wait in snapshot.chain:
        if wait.kind != "wait" or not wait.stuff or wait.id in named:
            continue
        runs = wait.id not in schedule.done and schedule[wait.id].early_start <= status
        if runs and not open_before(snapshot, wait.id, schedule):
            yield wait, wanted_by(wait.stuff)


def _over(schedule: Schedule, wait: Activity) -> datetime:
    return wait.finished or schedule[wait.id].early_finish
