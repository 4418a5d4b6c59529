"""A day of a calendar: when it is worked, and what says so."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from server.core.schedule.calendars import Spans
from server.core.schedule.instants import EPOCH_DAY
from server.core.world import Snapshot, WorkCalendar
from server.core.world.hours import calendar_of, extra_of, holidays_of, lineage, names_of

Says = Literal["week", "hours", "closed", "opened", "holiday"]


@dataclass(frozen=True)
class CalendarDay:
    """`says`: the week, or a day set apart: hours of its own, closed, opened again, a holiday.

    `calendar_id` is the calendar that says it: the one asked, or one that it follows. `spans` are
    minutes from midnight. `name` is what the day is for, or the holiday's; of an opened one too.
    """

    day: date
    spans: Spans
    says: Says
    calendar_id: str
    name: str = ""


def calendar_days(snapshot: Snapshot, id: str, first: date, last: date) -> tuple[CalendarDay, ...]:
    """The days from first to last of a calendar, both included."""
    hours = calendar_of(snapshot, id)
    sayings = [_set_apart(calendar) for calendar in lineage(snapshot, id)]
    week_id = next((c.id for c in lineage(snapshot, id) if c.shifts), id)
    found = []
    for number in range((last - first).days + 1):
        day = first + timedelta(days=number)
        spans = hours.spans(day.toordinal() - EPOCH_DAY)
        said = next((one[day] for one in sayings if day in one), None)
        says, by, name = said or ("week", week_id, "")
        found.append(CalendarDay(day, spans, says, by, name))
    return tuple(found)


def _set_apart(kept: WorkCalendar) -> dict[date, tuple[Says, str, str]]:
    """The days that one calendar sets apart itself; the later of these beats the earlier."""
    holidays, names = holidays_of(kept), names_of(kept)
    found: dict[date, tuple[Says, str, str]] = {
        day: ("holiday", kept.id, name) for day, name in holidays.items()
    }
    for says, days in (("opened", kept.opened), ("closed", kept.closed), ("hours", extra_of(kept))):
        for day in days:
            name = names.get(day) or holidays.get(day, "")
            found[day] = (says, kept.id, name)  # type: ignore[assignment]
    return found
