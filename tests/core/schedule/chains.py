"""Small builders: a chain on a site that works Monday to Friday, 7 am to 3:30 pm, 8 hours."""

from collections.abc import Sequence
from datetime import datetime

from server.core.schedule import Activity, Calendar, Dependency, Network, Schedule, compute

MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, SATURDAY, SUNDAY = range(1, 8)
NEXT_MONDAY, NEXT_TUESDAY = 8, 9
DAY = 480

SITE = Calendar.week({day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)})
CALENDARS = {"site": SITE, "clock": Calendar.always()}


def at(day: int, time: str = "07:00") -> datetime:
    """A day of December 2025, whose first is a Monday."""
    return datetime(2025, 12, day, int(time[:2]), int(time[3:]))


START = at(MONDAY)


def computed(
    activities: Sequence[Activity],
    dependencies: Sequence[Dependency] = (),
    *,
    status: datetime | None = None,
    start: datetime = START,
) -> Schedule:
    return compute(Network(activities, dependencies, CALENDARS, start, status))


def early(schedule: Schedule, id: str) -> tuple[datetime, datetime]:
    return schedule[id].early_start, schedule[id].early_finish


def late(schedule: Schedule, id: str) -> tuple[datetime, datetime]:
    return schedule[id].late_start, schedule[id].late_finish
