"""Commands for the days of a calendar, and for a crew that keeps hours of its own."""

from dataclasses import dataclass
from datetime import date

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class SetDays(Command):
    """What the days from `first` to `last` are, both included.

    `to` is "closed", "hours" (those of `shifts`, each as "08:00 12:00"), "week" (as in the week,
    whatever else closes the day) or "followed" (as the calendar that this one follows has it).
    `name` is what the days are for.
    """

    calendar_id: str
    first: date
    last: date
    to: str
    shifts: tuple[str, ...] = ()
    name: str = ""


@dataclass(frozen=True, kw_only=True)
class KeepHolidays(Command):
    """The public holidays of a place ("US-MA"; "" for none) in place of those there were.

    `days` are lines like "2025-12-25 Christmas Day"; `worked` the names of those that do not
    close the day here.
    """

    calendar_id: str
    place: str
    days: tuple[str, ...] = ()
    worked: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class GiveCrewHours(Command):
    """A crew gets a calendar of its own (`id`), named after it, that follows another."""

    id: str
    crew_id: str
    follows_id: str


@dataclass(frozen=True, kw_only=True)
class DropCalendar(Command):
    """A calendar that nobody keeps is taken out."""

    calendar_id: str
