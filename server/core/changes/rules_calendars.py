"""Rules: the company's calendars, their days and holidays, and a crew's own hours."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta

from server.core.calendar_days import calendar_days
from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.calendars import DropCalendar, GiveCrewHours, KeepHolidays, SetDays
from server.core.changes.inputs import (
    BadInput,
    name_of,
    near,
    new_id,
    not_taken,
    one_of,
    text_of,
    there,
    there_or_none,
)
from server.core.changes.places import KeepCalendar
from server.core.refusals import message
from server.core.world import Crew, Snapshot, WorkCalendar
from server.core.world.hours import calendar_of, extra_of, holidays_of, lineage, names_of

TO = ("closed", "hours", "week", "followed")
PLACE = re.compile(r"([A-Z]{2}(-[A-Z0-9]{1,3})?)?")
MOST_DAYS = 366
LONGEST_DAY_NAME = 60


@rule(KeepCalendar)
def keep_calendar(snapshot: Snapshot, actor: Actor, command: KeepCalendar, at: datetime) -> Outcome:
    """A calendar whose hours the chain core takes, and which does not follow itself."""
    others = (c.name for c in snapshot.calendars.values() if c.id != command.id)
    known = snapshot.calendars.get(command.id) or WorkCalendar(
        id=new_id(snapshot, WorkCalendar, command.id),
        company_id=snapshot.company.id,
        name="",
        shifts=(),
    )
    followed = there_or_none(snapshot, WorkCalendar, command.based_on_id, "based_on_id")
    if followed is not None and any(c.id == command.id for c in lineage(snapshot, followed.id)):
        raise BadInput("calendars.follows_itself", field="based_on_id", calendar=followed.name)
    kept = replace(
        known,
        name=not_taken(name_of(command.name), others),
        shifts=command.shifts,
        based_on_id=followed.id if followed else None,
        closed=known.closed if command.closed is None else _in_order(command.closed),
        extra=known.extra if command.extra is None else command.extra,
    )
    return _kept(snapshot, kept)


@rule(SetDays)
def set_days(snapshot: Snapshot, actor: Actor, command: SetDays, at: datetime) -> Outcome:
    """Days set apart or put back. The last that is said of a day counts."""
    calendar = there(snapshot, WorkCalendar, command.calendar_id, "calendar_id")
    to = one_of(command.to, TO, "to")
    name = text_of(" ".join(command.name.split()), "note", LONGEST_DAY_NAME)
    if to == "hours" and not command.shifts:
        raise BadInput("calendars.no_hours", field="hours")
    if to == "followed" and calendar.based_on_id is None:
        raise BadInput("calendars.follows_none", field="to")
    days = set(_days(command.first, command.last, at))
    extra = [line for line in calendar.extra if date.fromisoformat(line[:10]) not in days]
    if to == "hours":
        extra += [f"{day} {shift}" for day in sorted(days) for shift in command.shifts]
    names = {day: text for day, text in names_of(calendar).items() if day not in days}
    if name and to in ("closed", "hours"):
        names |= dict.fromkeys(days, name)
    bare = replace(
        calendar,
        extra=tuple(sorted(extra)),
        closed=_in_order(set(calendar.closed) - days),
        opened=_in_order(set(calendar.opened) - days),
        named=_lines(names),
    )
    holidays = holidays_of(bare)
    if to == "closed":
        # a holiday closes the day by itself, and goes when another place is chosen
        own = days if name else days - set(holidays)
        bare = replace(bare, closed=_in_order(set(bare.closed) | own))
    if to == "week":
        ahead = calendar_days(snapshot.put(bare), bare.id, command.first, command.last)
        apart = {day.day for day in ahead if day.says != "week"} & days
        bare = replace(bare, opened=_in_order(set(bare.opened) | apart))
    return _kept(snapshot, bare)


@rule(KeepHolidays)
def keep_holidays(snapshot: Snapshot, actor: Actor, command: KeepHolidays, at: datetime) -> Outcome:
    """Other holidays; single days that were opened or given hours here stay as they were set.

    A holiday worked here is opened in every year, and closed again in all when it is not any more.
    """
    calendar = there(snapshot, WorkCalendar, command.calendar_id, "calendar_id")
    if not PLACE.fullmatch(command.place):
        raise BadInput("calendars.no_place", field="country")
    kept = replace(calendar, holidays_of=command.place, holidays=tuple(sorted(set(command.days))))
    was_worked, opened = worked_holidays(calendar), set(calendar.opened)
    opened -= {day for day, name in holidays_of(calendar).items() if plain(name) in was_worked}
    opened |= {day for day, name in holidays_of(kept).items() if plain(name) in command.worked}
    return _kept(snapshot, replace(kept, opened=_in_order(opened)))


@rule(GiveCrewHours)
def give_crew_hours(
    snapshot: Snapshot, actor: Actor, command: GiveCrewHours, at: datetime
) -> Outcome:
    """The crew keeps a new calendar that says what the followed one says, until it is changed."""
    crew = there(snapshot, Crew, command.crew_id, "crew_id")
    followed = there(snapshot, WorkCalendar, command.follows_id, "follows_id")
    taken = {c.name.casefold() for c in snapshot.calendars.values()}
    names = (crew.name, *(f"{crew.name} {number}" for number in range(2, len(taken) + 3)))
    own = WorkCalendar(
        id=new_id(snapshot, WorkCalendar, command.id),
        company_id=snapshot.company.id,
        name=next(name for name in names if name.casefold() not in taken),
        shifts=(),
        based_on_id=followed.id,
    )
    after = snapshot.put(own, replace(crew, calendar_id=own.id))
    return Outcome(after, message("log.crew_hours", crew=crew.name, calendar=followed.name))


@rule(DropCalendar)
def drop_calendar(snapshot: Snapshot, actor: Actor, command: DropCalendar, at: datetime) -> Outcome:
    """Refused while a calendar follows it, or a house, a crew or a task keeps it."""
    calendar = find(snapshot, WorkCalendar, command.calendar_id)
    keeping = next(_keeping(snapshot, calendar.id), None)
    if keeping is not None:
        raise BadInput("calendars.kept_by", field="calendar_id", calendar=calendar.name, by=keeping)
    return Outcome(snapshot.drop(calendar), message("log.calendar_dropped", calendar=calendar.name))


def plain(name: str) -> str:
    """A holiday's name without what is said of the day: "Christmas Day (observed)"."""
    return name.partition(" (")[0]


def worked_holidays(calendar: WorkCalendar) -> frozenset[str]:
    """The holidays of a calendar that close none of their days here."""
    days = holidays_of(calendar)
    closing = {plain(name) for day, name in days.items() if day not in calendar.opened}
    return frozenset(map(plain, days.values())) - closing


def _keeping(snapshot: Snapshot, id: str) -> Iterator[str]:
    yield from (c.name for c in snapshot.calendars.values() if c.based_on_id == id)
    yield from (p.name for p in snapshot.projects.values() if p.calendar_id == id)
    # of those that ended too: their rows still name it
    yield from (c.name for c in snapshot.crews.values() if c.calendar_id == id)
    yield from (a.name for a in snapshot.activities.values() if a.calendar_id == id)


def _kept(snapshot: Snapshot, calendar: WorkCalendar) -> Outcome:
    """With this calendar, if its hours are some."""
    after = snapshot.put(calendar)
    calendar_of(after, calendar.id)
    extra_of(calendar), names_of(calendar)
    return Outcome(after, message("log.calendar_kept", calendar=calendar.name))


def _days(first: date, last: date, at: datetime) -> Iterable[date]:
    for day, field in ((first, "first"), (last, "last")):
        near(datetime(day.year, day.month, day.day), at, field)
    if last < first:
        raise BadInput("calendars.backward", field="last")
    if (last - first).days >= MOST_DAYS:
        raise BadInput("calendars.too_many_days", field="last", most=MOST_DAYS)
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


def _in_order(days: Iterable[date]) -> tuple[date, ...]:
    return tuple(sorted(set(days)))


def _lines(names: dict[date, str]) -> tuple[str, ...]:
    return tuple(f"{day} {name}" for day, name in sorted(names.items()))
