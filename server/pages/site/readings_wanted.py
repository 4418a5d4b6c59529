"""What the work at a place wants of its air now: between which numbers, and which work says so."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from server.core.climate import air_of, place_of
from server.core.drying import curing
from server.core.finish_wood import wood_of
from server.core.measure import Band
from server.core.schedule import Schedule
from server.core.wanted_air import WOOD_AIR, WOOD_HUMIDITY
from server.core.world import Snapshot


@dataclass(frozen=True)
class Asked:
    """One thing read ("air", "humidity"), the band it is wanted in, and the works that want it."""

    what: str
    low: Fraction | None
    high: Fraction | None
    works: tuple[str, ...]

    def holds(self, value: Fraction) -> bool:
        """Whether a reading is as it is wanted."""
        low = self.low is None or value >= self.low
        return low and (self.high is None or value <= self.high)


def asked_at(snapshot: Snapshot, schedule: Schedule, place_id: str) -> dict[str, Asked]:
    """What is wanted there now, by what is read; nothing where two works want what cannot be."""
    bands: dict[str, list[tuple[str, Band]]] = {}
    for what, work, band in _bands(snapshot, schedule, place_id):
        bands.setdefault(what, []).append((work, band))
    together = (_together(what, found) for what, found in bands.items())
    return {asked.what: asked for asked in together if asked is not None}


def _bands(
    snapshot: Snapshot, schedule: Schedule, place_id: str
) -> Iterator[tuple[str, str, Band]]:
    """Of what is drying in that air, and of finish wood that is new there or about to come."""
    places = air_of(snapshot, place_id)
    for activity, wanted in curing(snapshot, schedule):
        if place_of(snapshot, activity) in places:
            yield "air", activity.name, wanted.air
            if wanted.humidity is not None:
                yield "humidity", activity.name, wanted.humidity
    for activity in snapshot.chain:
        wood = wood_of(snapshot, schedule, activity)
        if wood is not None and wood.near and wood.place_id in places:
            yield "air", activity.name, WOOD_AIR
            yield "humidity", activity.name, WOOD_HUMIDITY


def _together(what: str, found: Sequence[tuple[str, Band]]) -> Asked | None:
    low = max((b.low for _, b in found if b.low is not None), default=None)
    high = min((b.high for _, b in found if b.high is not None), default=None)
    if low is not None and high is not None and low > high:
        return None
    return Asked(what, low, high, tuple(dict.fromkeys(name for name, _ in found)))
