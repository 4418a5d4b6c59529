"""Readings of air, wood and plaster as they are looked at: the newest, the average, the trend."""

from collections.abc import Iterator, Sequence
from datetime import datetime, time, timedelta
from fractions import Fraction

from server.core.world import Activity, Reading, Snapshot

APART = timedelta(days=2)
"""Two readings this far apart show whether something still moves: common practice."""
STILL = Fraction(1, 2)
"""What moves no more than so many points between them has settled: common practice."""
WEEK = 7
"""Over so many days the air of a house is judged for finish wood: common practice."""


def place_of(snapshot: Snapshot, activity: Activity) -> str | None:
    """Where something is done: its own place, else its detail's.

    In a detail made from a pattern what has no place of its own is done off site.
    """
    detail = snapshot.details[activity.detail_id]
    return activity.place_id or (None if detail.pattern else detail.place_id)


def air_of(snapshot: Snapshot, place_id: str) -> tuple[str, ...]:
    """The places that share the air of one, itself first."""
    air = snapshot.places[place_id].air
    others = (p.id for p in snapshot.places.values() if p.air == air and p.id != place_id)
    return (place_id, *others)


def newest(snapshot: Snapshot, place_id: str, what: str, status: datetime) -> Reading | None:
    """The newest reading of today or yesterday there; else in a place that shares its air."""
    since = datetime.combine(status.date() - timedelta(days=1), time(0))
    for places in ((place_id,), air_of(snapshot, place_id)):
        found = _between(snapshot, places, what, since, status)
        if found:
            return found[-1]
    return None


def average(
    snapshot: Snapshot, place_id: str, what: str, until: datetime, days: int = WEEK
) -> Fraction | None:
    """The average over the days that end at `until`, each day counted once however often it was
    read; None where fewer than two days were. Of the place, else of those that share its air.
    """
    since = until - timedelta(days=days)
    for places in ((place_id,), air_of(snapshot, place_id)):
        of_day: dict[object, list[Fraction]] = {}
        for reading in _between(snapshot, places, what, since, until):
            of_day.setdefault(reading.at.date(), []).append(reading.value)
        if len(of_day) >= 2:
            return sum((sum(v, Fraction(0)) / len(v) for v in of_day.values()), Fraction(0)) / len(
                of_day
            )
    return None


def series(
    snapshot: Snapshot,
    place_id: str,
    what: str,
    since: datetime | None = None,
    until: datetime | None = None,
) -> tuple[tuple[Reading, ...], ...]:
    """The readings of a place, oldest first, apart for each spot that they were taken at.

    With `since`, those taken then or later; with `until`, then or before.
    """
    spots: dict[str, list[Reading]] = {}
    for reading in _between(snapshot, (place_id,), what, since, until):
        spots.setdefault(" ".join(reading.where.casefold().split()), []).append(reading)
    return tuple(tuple(spot) for spot in spots.values())


def settled(readings: Sequence[Reading]) -> bool | None:
    """Whether a series has stopped changing; None where it is too short to say.

    The newest is held against the newest of those at least two days older; a change that is larger
    than what counts as still is a change, however short the time.
    """
    if not readings:
        return None
    last = readings[-1]
    older = [r for r in readings if last.at - r.at >= APART]
    if any(abs(last.value - r.value) > STILL for r in (older[-1:] or readings[:-1])):
        return False
    return True if older else None


def moving(found: Sequence[Sequence[Reading]]) -> Reading | None:
    """The newest reading of those series that still change; None where none does."""
    last = (readings[-1] for readings in found if settled(readings) is False)
    return max(last, key=lambda reading: reading.at, default=None)


def _between(
    snapshot: Snapshot,
    places: Sequence[str],
    what: str,
    since: datetime | None,
    until: datetime | None,
) -> list[Reading]:
    found: Iterator[Reading] = (
        r
        for r in snapshot.readings.values()
        if r.what == what and r.place_id in places
        if (since is None or since <= r.at) and (until is None or r.at <= until)
    )
    return sorted(found, key=lambda r: r.at)
