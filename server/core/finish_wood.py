"""Finish wood: when it comes into a place, and what of wet work and air speaks against it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction

from server.core.climate import WEEK, air_of, average, place_of
from server.core.coming import coming, notice_of
from server.core.drying import Dry
from server.core.measure import Band
from server.core.schedule import Schedule
from server.core.visits import wanted
from server.core.wanted_air import WOOD_AIR, WOOD_HUMIDITY
from server.core.world import Activity, Booking, HoldPoint, Snapshot


@dataclass(frozen=True)
class Wood:
    """Finish wood that comes into a place, or has come.

    `said` if somebody is asked or has promised, or it is in: not the forecast alone. `near` while
    it is new there, or comes within its crew's notice.
    """

    work: Activity
    place_id: str
    at: datetime
    is_in: bool
    said: bool
    near: bool
    visits: tuple[Booking, ...] = ()


@dataclass(frozen=True)
class Against:
    """What speaks against it: wet work that is not dry by then, no meter check, the air.

    The air as (what was read, average, wanted).
    """

    wet: tuple[Dry, ...]
    unmetered: bool
    air: tuple[tuple[str, Fraction, Band], ...]

    @property
    def any(self) -> bool:
        """Whether anything does."""
        return bool(self.wet or self.unmetered or self.air)


def wood_of(snapshot: Snapshot, schedule: Schedule, work: Activity) -> Wood | None:
    """The finish wood that a delivery brings or a task fits; None if it is none, or off site."""
    place_id = place_of(snapshot, work)
    if not work.finish_wood or place_id is None or work.kind not in ("task", "delivery"):
        return None
    dates, status = schedule[work.id], schedule.status
    if work.kind == "delivery":
        at = work.finished or dates.early_finish
        near = at - status <= notice_of(snapshot, work) and status - at < timedelta(days=WEEK)
        said = bool(work.finished or work.ordered or work.promised)
        return Wood(work, place_id, at, work.finished is not None, said, near)
    if work.started is not None:
        return Wood(work, place_id, work.started, True, True, work.finished is None)
    visits = wanted(snapshot, work.id, status)
    at = min((dates.early_start, *(visit.start for visit in visits)))
    near = at - status <= notice_of(snapshot, work)
    return Wood(work, place_id, at, False, bool(visits) or near, near, visits)


def against(snapshot: Snapshot, schedule: Schedule, wood: Wood, drying: Sequence[Dry]) -> Against:
    """What speaks against finish wood; `drying` is all wet work in its air.

    Of wood that is in, what still does. The meter and the air are looked at while it is near; the
    meter only once all is dry.
    """
    by = schedule.status if wood.is_in else max(wood.at, schedule.status)
    wet = tuple(one for one in drying if one.at > by and one.coat.id != wood.work.id)
    if not wood.near:
        return Against(wet, False, ())
    dried = max((one.at for one in drying if one.coat.finished), default=None)
    metered = wet or dried is None or is_metered(snapshot, wood.place_id, dried)
    return Against(wet, not metered, tuple(_air(snapshot, wood.place_id, schedule.status)))


def at_hand(snapshot: Snapshot, schedule: Schedule, wet: Sequence[Dry]) -> bool:
    """Whether any of this wet work is on the wall, under way, or somebody comes for it."""
    return any(
        one.coat.finished is not None or coming(snapshot, schedule, one.coat) is not None
        for one in wet
    )


def is_metered(snapshot: Snapshot, place_id: str, dried: datetime) -> bool:
    """Whether a meter check in that air was released since the last coat dried."""
    return any(
        attempt.state == "released" and (attempt.decided_at or attempt.marked_at) >= dried
        for hold in meter_checks(snapshot, place_id)
        for attempt in snapshot.attempts_of.get(hold.id, ())
    )


def meter_checks(snapshot: Snapshot, place_id: str) -> tuple[HoldPoint, ...]:
    """The checks in the air of a place that ask for something in %, in the order of the chains."""
    places = air_of(snapshot, place_id)
    return tuple(
        hold
        for a in snapshot.chain
        if (hold := snapshot.hold_of.get(a.id)) is not None and place_of(snapshot, a) in places
        if any(ask.unit == "%" for ask in snapshot.asks_of.get(hold.id, ()))
    )


def _air(
    snapshot: Snapshot, place_id: str, status: datetime
) -> Iterator[tuple[str, Fraction, Band]]:
    """The averages of the last week that are not as finish wood wants them."""
    for what, band in (("air", WOOD_AIR), ("humidity", WOOD_HUMIDITY)):
        value = average(snapshot, place_id, what, status)
        if value is not None and band.off(value):
            yield what, value, band
