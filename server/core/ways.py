"""The ways up and out of a house: when each is open, and when a floor has none left.

Nothing says yet which floors have a door of their own. Taken as common: the lowest has one, and so
has the next where there are three floors or more, because a house with a garden level or a cellar
is entered above it.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from server.core.asked import as_asked
from server.core.schedule import Schedule
from server.core.world import Activity, Snapshot, Way


@dataclass(frozen=True)
class Turn:
    """A way opens or shuts at a moment, by a task or as recorded (None)."""

    at: datetime
    way: Way
    opens: bool
    by: Activity | None


@dataclass(frozen=True)
class Cut:
    """A floor without a way out, from what shut the last one until one opens (None: never)."""

    floor_id: str
    shut: Turn
    until: datetime | None


def turns(
    snapshot: Snapshot, schedule: Schedule, begins: Mapping[str, datetime]
) -> tuple[Turn, ...]:
    """When ways open and shut, in order of time.

    A way opens when the task that opens it is done, and shuts when the one that shuts it begins;
    if that opens another way, then when it is done. `begins` says when tasks begin that are under
    way, asked for or near: what else would shut a way does not count yet.
    """
    ids = [a.id for a in snapshot.chain if a.opens_way_id or a.closes_way_id]
    dates = as_asked(schedule, begins, ids)
    found: list[Turn] = []
    for way in snapshot.ways.values():
        found += [Turn(way.opened, way, True, None)] if way.opened else []
        found += [Turn(way.closed, way, False, None)] if way.closed else []
    for activity in (snapshot.activities[id] for id in ids):
        done = activity.finished or dates[activity.id].early_finish
        opens = snapshot.ways.get(activity.opens_way_id or "")
        shuts = snapshot.ways.get(activity.closes_way_id or "")
        if opens is not None:
            found.append(Turn(done, opens, True, activity))
        begun = activity.started or activity.finished or begins.get(activity.id)
        if shuts is not None and begun is not None:
            at = max(done, begun) if opens is not None else begun
            found.append(Turn(at, shuts, False, activity))
    return tuple(sorted(found, key=lambda turn: (turn.at, not turn.opens)))


def cuts(
    snapshot: Snapshot, all_turns: tuple[Turn, ...], *, carrying: bool = False
) -> Iterator[Cut]:
    """When floors have no way out, after something has shut the last.

    `carrying`: no way that pieces or a person who is hurt can be carried by. A floor that had no
    way from the beginning is not told: people get up there by something that nobody has written.
    """
    ways = [w for w in snapshot.ways.values() if w.carries or not carrying]
    first = {turn.way.id: turn.opens for turn in reversed(all_turns)}
    is_open = {way.id for way in ways if not first.get(way.id, False)}
    shut: dict[str, Turn] = {}
    before = _cut_off(snapshot, [w for w in ways if w.id in is_open])
    for at, group in groupby(all_turns, key=lambda turn: turn.at):
        together = tuple(group)
        for turn in together:
            (is_open.add if turn.opens else is_open.discard)(turn.way.id)
        now = _cut_off(snapshot, [w for w in ways if w.id in is_open])
        by = next((turn for turn in together if not turn.opens), None)
        shut |= {floor_id: by for floor_id in now - before if by}
        for floor_id in before - now:
            if floor_id in shut:
                yield Cut(floor_id, shut.pop(floor_id), at)
        before = now
    for floor_id, turn in shut.items():
        yield Cut(floor_id, turn, None)


def _cut_off(snapshot: Snapshot, ways: Collection[Way]) -> frozenset[str]:
    """The floors from which no open way leads to one with a door."""
    floors = sorted(snapshot.floors.values(), key=lambda floor: floor.order)
    out = {floor.id for floor in floors[: 2 if len(floors) > 2 else 1]}
    reached = len(out) - 1
    while reached != len(out):
        reached = len(out)
        for way in ways:
            if way.lower_id in out or way.upper_id in out:
                out |= {way.lower_id, way.upper_id}
    return frozenset(floor.id for floor in floors) - out
