"""Calendars as the company keeps them, turned into calendars of the chain core."""

import re
from datetime import date, datetime, time, timedelta
from functools import lru_cache

from server.core.refusals import Refusal
from server.core.schedule import Calendar, Refused
from server.core.schedule.instants import EPOCH_DAY
from server.core.world.chain import Activity
from server.core.world.company import WorkCalendar
from server.core.world.snapshot import Snapshot

ALWAYS = "always"
"""The key of the clock."""

ANY_WEEK = {0: (("00:00", "24:00"),)}
"""Stands in for a week that another calendar gives."""

_SHIFT = re.compile(r"([0-6]) (\d\d:\d\d) (\d\d:\d\d)")
_EXTRA = re.compile(r"(\d{4}-\d\d-\d\d) (\d\d:\d\d) (\d\d:\d\d)")


class BadHours(Refusal):
    """A shift or a day that is not written as one."""


def calendar_of(snapshot: Snapshot, id: str) -> Calendar:
    """The hours of a calendar, with what it follows; the same one for the same rows.

    Raises `BadHours`, or the core's `Refused` for hours that overlap or leave the week empty.

    >>> week = WorkCalendar(id="w", company_id="c", name="Site", shifts=("0 07:00 15:30",))
    >>> saturday = WorkCalendar(
    ...     id="s", company_id="c", name="Metal", shifts=(), based_on_id="w",
    ...     extra=("2025-12-06 08:00 12:00",),
    ... )
    >>> calendar_of(Snapshot().put(week, saturday), "s").longest_weekday
    510
    """
    return _resolved(lineage(snapshot, id))


def lineage(snapshot: Snapshot, id: str) -> tuple[WorkCalendar, ...]:
    """A calendar, the one that it follows, the one that follows, and so on."""
    found: list[WorkCalendar] = []
    next_id: str | None = id
    while next_id is not None:
        found.append(snapshot.calendars[next_id])
        next_id = found[-1].based_on_id
    return tuple(found)


@lru_cache(maxsize=512)
def _resolved(kept: tuple[WorkCalendar, ...]) -> Calendar:
    """Own hours of a day, then closed or opened here, then holidays, then the calendar followed."""
    own, *followed = kept
    base = _resolved(tuple(followed)) if followed else None
    shifts = _shifts(own)
    days = dict(base.days if base else ())
    days.update(dict.fromkeys((_number(day) for day in holidays_of(own)), ()))
    for day in own.opened:
        days.pop(_number(day), None)
    checked = Calendar.week(
        shifts if shifts or base is None else ANY_WEEK, set(own.closed), extra_of(own)
    )
    days.update(checked.days)
    weekdays = checked.weekdays if shifts or base is None else base.weekdays
    return Calendar(weekdays, tuple(sorted(days.items())))


def holidays_of(kept: WorkCalendar) -> dict[date, str]:
    """The days that are closed by law, with their names."""
    return _named_days(kept.holidays, "holidays")


def names_of(kept: WorkCalendar) -> dict[date, str]:
    """What the days that are set in a calendar are for, where that was said."""
    return _named_days(kept.named, "named")


def extra_of(kept: WorkCalendar) -> dict[date, list[tuple[str, str]]]:
    """The days with hours of their own: from and to of each shift."""
    extra: dict[date, list[tuple[str, str]]] = {}
    for text in kept.extra:
        if (found := _EXTRA.fullmatch(text)) is None:
            raise BadHours("places.bad_extra", field="extra", text=text)
        extra.setdefault(_day(found[1], "extra"), []).append((found[2], found[3]))
    return extra


def _shifts(kept: WorkCalendar) -> dict[int, list[tuple[str, str]]]:
    shifts: dict[int, list[tuple[str, str]]] = {}
    for text in kept.shifts:
        if (found := _SHIFT.fullmatch(text)) is None:
            raise BadHours("places.bad_shift", field="shifts", text=text)
        shifts.setdefault(int(found[1]), []).append((found[2], found[3]))
    return shifts


def _named_days(lines: tuple[str, ...], field: str) -> dict[date, str]:
    days = (line.partition(" ") for line in lines)
    return {_day(day, field): name for day, _, name in days}


def _number(day: date) -> int:
    return day.toordinal() - EPOCH_DAY


def calendar_id_of(snapshot: Snapshot, activity: Activity) -> str:
    """The calendar an activity keeps: its own, else its crew's, else the project's."""
    crew = snapshot.crews.get(activity.crew_id or "")
    return activity.calendar_id or (crew and crew.calendar_id) or snapshot.project.calendar_id


def joint_key(snapshot: Snapshot, activity: Activity) -> str:
    """The key of the calendar an activity keeps; joint work goes only where all its crews work."""
    if activity.kind == "wait":
        return ALWAYS
    first = calendar_id_of(snapshot, activity)
    if activity.calendar_id:
        return first
    site = snapshot.project.calendar_id
    others = (snapshot.crews[id].calendar_id or site for id in activity.with_crew_ids)
    return "+".join(dict.fromkeys((first, *others)))


def joint_hours(snapshot: Snapshot, key: str) -> Calendar:
    """The calendar of such a key."""
    if key == ALWAYS:
        return Calendar.always()
    return _together(tuple(lineage(snapshot, id) for id in key.split("+")))


@lru_cache(maxsize=256)
def _together(kept: tuple[tuple[WorkCalendar, ...], ...]) -> Calendar:
    """Where all work; crews whose hours have come apart since go by those named first."""
    together, *others = map(_resolved, kept)
    for calendar in others:
        try:
            together = Calendar.both(together, calendar)
        except Refused:
            continue
    return together


def _day(text: str, field: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadHours("places.bad_extra", field=field, text=text) from None


def first_hour(snapshot: Snapshot, activity: Activity, at: datetime) -> datetime:
    """The first working minute of whoever does an activity at or after this; `at` if none is near.

    Looks one year ahead.
    """
    calendar = joint_hours(snapshot, joint_key(snapshot, activity))
    for ahead in range(366):
        midnight = datetime.combine(at.date() + timedelta(days=ahead), time(0))
        for start, finish in calendar.spans(midnight.toordinal() - EPOCH_DAY):
            if midnight + timedelta(minutes=finish) > at:
                return max(midnight + timedelta(minutes=start), at)
    return at


def working_days(snapshot: Snapshot, first: date, second: date) -> int:
    """The days on which the site works from one day to another; negative if the second is earlier.

    From Friday to Monday it is one.
    """
    if second < first:
        return -working_days(snapshot, second, first)
    calendar = calendar_of(snapshot, snapshot.project.calendar_id)
    days = range(first.toordinal() + 1, second.toordinal() + 1)
    return sum(bool(calendar.spans(day - EPOCH_DAY)) for day in days)


def later_by(snapshot: Snapshot, at: datetime, days: int) -> datetime:
    """So many working days of the site later, at the same time of day; looks ten years ahead."""
    calendar = calendar_of(snapshot, snapshot.project.calendar_id)
    day = at
    for _ in range(3650):
        if days <= 0:
            break
        day += timedelta(days=1)
        days -= bool(calendar.spans(day.toordinal() - EPOCH_DAY))
    return day


def remains(snapshot: Snapshot, activity: Activity, at: datetime) -> int | None:
    """What remains of an activity in working minutes: what was said, less the work since.

    None where nobody has said.
    """
    if activity.remaining is None or activity.remaining_at is None:
        return activity.remaining
    calendar = joint_hours(snapshot, joint_key(snapshot, activity))
    return max(0, activity.remaining - working_minutes(calendar, activity.remaining_at, at))


def working_minutes(calendar: Calendar, start: datetime, finish: datetime) -> int:
    """The working minutes between two moments; 0 if the second is not later."""
    minutes = 0
    for day in range(start.toordinal(), finish.toordinal() + 1):
        midnight = datetime.combine(date.fromordinal(day), time(0))
        for opens, closes in calendar.spans(day - EPOCH_DAY):
            first = max(midnight + timedelta(minutes=opens), start)
            last = min(midnight + timedelta(minutes=closes), finish)
            minutes += max(0, int((last - first).total_seconds()) // 60)
    return minutes
