"""Promised dates: those of a detail against its forecast, and those that a crew kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from server.core.schedule import Schedule
from server.core.world import Activity, Agreed, Booking, Snapshot
from server.core.world.hours import working_days


def promised(snapshot: Snapshot, detail_id: str) -> Mapping[str, Agreed]:
    """Activity id -> its promised dates in the newest round of a detail; empty without any."""
    rounds: dict[int, dict[str, Agreed]] = {}
    for one in snapshot.agreed.values():
        if one.detail_id == detail_id:
            rounds.setdefault(one.round, {})[one.activity_id] = one
    return rounds[max(rounds)] if rounds else {}


def promised_finish(snapshot: Snapshot, detail_id: str) -> datetime | None:
    """When all of a detail was promised to be done."""
    return max((one.finish for one in promised(snapshot, detail_id).values()), default=None)


def last_of(snapshot: Snapshot, schedule: Schedule, detail_id: str) -> Activity | None:
    """What finishes last in a detail, of several the first in the chain; None without any work."""
    chain = snapshot.chain_of(detail_id)
    return max(chain, key=lambda a: schedule[a.id].early_finish, default=None)


def finish_of(snapshot: Snapshot, schedule: Schedule, detail_id: str) -> datetime | None:
    """The forecast finish of a detail; None if there is no work in it."""
    last = last_of(snapshot, schedule, detail_id)
    return schedule[last.id].early_finish if last else None


def days_late(snapshot: Snapshot, schedule: Schedule, detail_id: str) -> int | None:
    """By how many working days of the site a detail finishes after its promised day.

    Negative if before; None where nothing was promised.
    """
    due, finish = promised_finish(snapshot, detail_id), finish_of(snapshot, schedule, detail_id)
    if due is None or finish is None:
        return None
    return working_days(snapshot, due.date(), finish.date())


@dataclass(frozen=True)
class Visited:
    """How many of a crew's promised days have passed, and on how many of them it came."""

    came: int
    promised: int


def visits_kept(snapshot: Snapshot, crew_id: str, today: date) -> Visited:
    """How often a crew came on the day it had promised, of those before today.

    A crew promises a day when it says that it comes. It keeps the promise when its work was going
    on that day, or it came and could not work. When the super asks for another time or takes the
    visit back before the day, there is nothing left to keep; when the crew can't come, there is.
    """
    found = [
        came_on_the_day(snapshot, visit)
        for visit in snapshot.bookings.values()
        if visit.crew_id == crew_id and _was_due(visit, today)
    ]
    return Visited(sum(found), len(found))


def came_on_the_day(snapshot: Snapshot, visit: Booking) -> bool:
    """Whether a crew came on the day that it had promised for a visit."""
    if visit.promised is None:
        return False
    day = visit.promised.date()
    if visit.wasted_at is not None and visit.start.date() == day:
        return True
    tasks = (snapshot.activities[id] for id in visit.activity_ids)
    return any(
        a.started.date() <= day <= (a.finished.date() if a.finished else day)
        for a in tasks
        if a.started is not None
    )


def _was_due(visit: Booking, today: date) -> bool:
    if visit.promised is None or visit.promised.date() >= today:
        return False
    taken_back = visit.ended is not None and visit.wasted_at is None
    return not (taken_back and visit.ended is not None and visit.ended < visit.promised)
