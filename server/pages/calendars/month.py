"""A calendar as a month of days that say what they are."""

from calendar import Calendar as Weeks
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from babel.dates import format_date

from server.core.calendar_days import CalendarDay, calendar_days
from server.core.schedule.calendars import Spans
from server.core.world import Snapshot
from server.pages.house.hours import WEEKDAYS, hours_written
from server.words import Words

NO_WORK = {"week": "no work", "opened": "no work", "closed": "closed", "holiday": "closed"}
WORKED = {"week": "", "opened": "as in the week", "hours": "own hours"}


@dataclass(frozen=True)
class DayShown:
    """A day of the month. `short` fits in its square, `said` is what it is in full."""

    day: date
    short: str
    said: str
    name: str
    kind: str
    today: bool


@dataclass(frozen=True)
class ApartShown:
    """Days in a row that differ from the week for the same reason."""

    when: str
    said: str


@dataclass(frozen=True)
class Month:
    """The weeks of a month, with None before its first day and after its last."""

    title: str
    weekdays: tuple[str, ...]
    weeks: tuple[tuple[DayShown | None, ...], ...]
    apart: tuple[ApartShown, ...]


def month_shown(
    company: Snapshot, id: str, month: date, today: date, first_weekday: int, words: Words
) -> Month:
    """The month of a calendar, its weeks beginning with that weekday (0 is Monday)."""
    last = (month.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)
    days = calendar_days(company, id, month, last)
    shown = {d.day: _day(company, id, d, today, words) for d in days}
    weeks = Weeks(first_weekday)
    return Month(
        title=format_date(month, "LLLL y", locale=words.locale),
        weekdays=tuple(WEEKDAYS[number] for number in weeks.iterweekdays()),
        weeks=tuple(
            tuple(shown[month.replace(day=number)] if number else None for number in week)
            for week in weeks.monthdayscalendar(month.year, month.month)
        ),
        apart=tuple(_apart(company, id, days, words)),
    )


def hours_said(spans: Spans) -> str:
    """The hours of a day as they are typed: "7:00-12:00, 12:30-15:30"."""
    return hours_written((_clock(start), _clock(end)) for start, end in spans)


def _clock(minute: int) -> str:
    return f"{minute // 60:02}:{minute % 60:02}"


def _short(spans: Spans) -> str:
    """From when to when, without the breaks: "7-15:30"."""
    ends = (spans[0][0], spans[-1][1])
    return "-".join(_clock(end).removeprefix("0").removesuffix(":00") for end in ends)


def _day(company: Snapshot, id: str, day: CalendarDay, today: date, words: Words) -> DayShown:
    kind = "apart" if day.says in ("hours", "opened") and day.spans else "on"
    return DayShown(
        day=day.day,
        short=_short(day.spans) if day.spans else NO_WORK.get(day.says, "closed"),
        said=f"{format_date(day.day, 'EEEE, LLLL d', locale=words.locale)}: "
        + _what(company, id, day),
        name=day.name,
        kind=kind if day.spans else "shut" if day.says in ("closed", "holiday") else "off",
        today=day.day == today,
    )


def _what(company: Snapshot, id: str, day: CalendarDay) -> str:
    """What a day is, what for, and which calendar says so if it is another."""
    hours = hours_said(day.spans)
    said = f"works {hours}" if hours else NO_WORK.get(day.says, "closed")
    about = [said, WORKED.get(day.says, "") if hours else "", day.name]
    if day.says != "week" and day.calendar_id != id:
        about.append(f"from {company.calendars[day.calendar_id].name}")
    return ", ".join(one for one in about if one)


def _apart(
    company: Snapshot, id: str, days: Sequence[CalendarDay], words: Words
) -> Iterator[ApartShown]:
    """The days that are set apart, those in a row together."""
    run: list[CalendarDay] = []
    for day in (*days, None):
        if run and (day is None or _about(day) != _about(run[-1])):
            first, last = words.day(run[0].day), words.day(run[-1].day)
            when = first if first == last else f"{first} to {last}"
            yield ApartShown(when, _what(company, id, run[0]))
            run = []
        if day is not None and day.says != "week":
            run.append(day)


def _about(day: CalendarDay) -> tuple[object, ...]:
    # what is closed is closed at whatever hours
    return (day.says, day.name, day.calendar_id, day.spans if day.says != "closed" else ())
