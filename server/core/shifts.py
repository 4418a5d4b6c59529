"""Shifts of a crew as moments: those of a day, and when so much work from a start is over."""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from server.core.schedule import Calendar
from server.core.schedule.instants import EPOCH_DAY
from server.core.world import Crew, Snapshot
from server.core.world.hours import calendar_of

Shift = tuple[datetime, datetime]


def hours_of_crew(snapshot: Snapshot, crew: Crew) -> Calendar:
    """When a crew works: by its own calendar, else the site's."""
    return calendar_of(snapshot, crew.calendar_id or snapshot.project.calendar_id)


def site_hours(snapshot: Snapshot) -> Calendar:
    """When the site works."""
    return calendar_of(snapshot, snapshot.project.calendar_id)


def shifts_of(calendar: Calendar, day: date) -> tuple[Shift, ...]:
    """The shifts of a day, from and to; none on a day that is closed."""
    midnight = datetime.combine(day, time(0))
    return tuple(
        (midnight + timedelta(minutes=opens), midnight + timedelta(minutes=closes))
        for opens, closes in calendar.spans(day.toordinal() - EPOCH_DAY)
    )


def days_between(start: datetime, finish: datetime) -> Iterator[date]:
    """The days on which there is something of a stretch of time."""
    day = start.date()
    while datetime.combine(day, time(0)) < finish:
        yield day
        day += timedelta(days=1)


def shift_ends(calendar: Calendar, after: datetime, days: int = 15) -> Iterator[datetime]:
    """The ends of shifts later than a moment, for so many days."""
    for ahead in range(days):
        for _, end in shifts_of(calendar, after.date() + timedelta(days=ahead)):
            if end > after:
                yield end


def end_after(calendar: Calendar, start: datetime, minutes: int) -> datetime:
    """When so many working minutes from a start are over; the start if not within a year."""
    for ahead in range(366):
        for opens, closes in shifts_of(calendar, start.date() + timedelta(days=ahead)):
            begin = max(opens, start)
            there = int((closes - begin).total_seconds()) // 60
            if there <= 0:
                continue
            if minutes <= there:
                return begin + timedelta(minutes=minutes)
            minutes -= there
    return start
