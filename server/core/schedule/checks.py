"""What is refused before anything is computed."""

from collections.abc import Sequence
from datetime import datetime

from server.core.schedule.calendars import Calendar
from server.core.schedule.instants import minutes_of
from server.core.schedule.network import Activity, Dependency, Kind
from server.core.schedule.refused import Refused


def check_activity(a: Activity, status: int, calendar: Calendar) -> None:
    """Refuse durations below zero, facts that contradict one another, a coat no day can hold."""
    if a.work < 0:
        raise _negative(a, "work", a.work)
    if a.notice < 0:
        raise _negative(a, "notice", a.notice)
    if a.rework < 0:
        raise _negative(a, "rework", a.rework)
    if a.one_day and a.work > calendar.longest_weekday and not calendar.long_days(a.work):
        raise Refused("schedule.no_day_long_enough", field="one_day", activity=a.id, work=a.work)
    if a.started or a.finished or a.ordered or a.remaining is not None:
        _check_facts(a, status)


def _check_facts(a: Activity, status: int) -> None:
    ordered = a.ordered if a.kind is Kind.DELIVERY else None
    for field, moment in (("started", a.started), ("finished", a.finished), ("ordered", ordered)):
        if moment and minutes_of(moment) > status:
            raise _contradiction("schedule.actual_after_status", a, field, moment)
    begun = a.started or ordered
    if a.finished and a.work and not begun:
        raise _contradiction("schedule.finished_not_started", a, "finished", a.finished)
    if a.finished and begun and minutes_of(a.finished) < minutes_of(begun):
        raise _contradiction("schedule.finished_before_started", a, "finished", a.finished)
    if a.remaining is not None:
        if a.remaining < 0:
            raise _negative(a, "remaining", a.remaining)
        if not begun:
            raise Refused("schedule.remaining_not_started", field="remaining", activity=a.id)


def check_dependency(d: Dependency) -> None:
    """Refuse a lag longer than the most time allowed between the same two ends."""
    if d.most is not None and d.lag > d.most:
        raise Refused(
            "schedule.lag_above_most",
            field="most", before=d.before, after=d.after, lag=d.lag, most=d.most,
        )  # fmt: skip


def doubled(activities: Sequence[Activity]) -> str:
    """The first id that is given again later."""
    last = {a.id: i for i, a in enumerate(activities)}
    return next(a.id for i, a in enumerate(activities) if last[a.id] != i)


def find_loop(pairs: Sequence[tuple[int, int]]) -> list[int]:
    """One ring, in order, among activities of which each has one of them after it."""
    after: dict[int, int] = {}
    for first, last in pairs:
        after.setdefault(first, last)
    # Everything has something after it, so going on must meet itself.
    seen: dict[int, int] = {}
    here = min(after)
    while here not in seen:
        seen[here] = len(seen)
        here = after[here]
    ring = list(seen)[seen[here] :]
    first_given = ring.index(min(ring))
    return ring[first_given:] + ring[:first_given]


def _negative(a: Activity, field: str, minutes: int) -> Refused:
    return Refused("schedule.negative", field=field, activity=a.id, minutes=minutes)


def _contradiction(id: str, a: Activity, field: str, moment: datetime) -> Refused:
    return Refused(id, field=field, activity=a.id, moment=moment)
