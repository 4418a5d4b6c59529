"""The builder's firm and what it owns over all projects: people, crews, calendars."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.world.noun import Noun


@dataclass(frozen=True, kw_only=True)
class Company(Noun):
    """The builder's firm. `frozen_at` holds the clock of a demo at one instant."""

    name: str
    trades: tuple[str, ...] = ()
    frozen_at: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class OfCompany(Noun):
    """A noun that belongs to the company and is seen from each of its projects."""

    company_id: str


@dataclass(frozen=True, kw_only=True)
class WorkCalendar(OfCompany):
    """When somebody works. A shift is "0 07:00 12:00": weekday (Monday 0), from, to.

    One that follows another (`based_on_id`) holds only what differs: without `shifts` the week is
    the other's, and so is every day that is not named here. `world.hours` puts them together.
    """

    name: str
    shifts: tuple[str, ...]
    closed: tuple[date, ...] = ()
    extra: tuple[str, ...] = ()
    """Days that replace the week: "2025-12-06 08:00 12:00"."""
    based_on_id: str | None = None
    opened: tuple[date, ...] = ()
    """Days as in the week, though a holiday or the calendar that it follows closes them."""
    named: tuple[str, ...] = ()
    """What days set here are for: "2025-12-29 Winter break"."""
    holidays_of: str = ""
    """The country, and its state or province if any, as ISO 3166 writes them: "US-MA"."""
    holidays: tuple[str, ...] = ()
    """Closed by law: "2025-12-25 Christmas Day"."""


@dataclass(frozen=True, kw_only=True)
class Crew(OfCompany):
    """A firm or own gang of one trade. `least_visit` and `notice` are minutes, of the clock."""

    name: str
    trade: str
    foreman: str = ""
    phone: str = ""
    language: str = "en"
    calendar_id: str | None = None
    can_field: int = 1
    least_visit: int = 240
    notice: int = 1440
    ended: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Person(OfCompany):
    """Somebody who can be asked, mark, release or decide.

    `role` is "super" (and office), "crew" (a crew's lead) or "rep" (owner's rep, architect,
    engineer, inspector's contact). `units` is "in" or "mm". `answers_in` is the usual answer
    time in days.
    """

    name: str
    role: str
    title: str = ""
    crew_id: str | None = None
    phone: str = ""
    email: str = ""
    language: str = "en"
    units: str = "in"
    answers_in: int = 2
    ended: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class OwnPattern(OfCompany):
    """A pattern that the company has kept: the text of its file, which `server.data` reads."""

    name: str
    text: str
    ended: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class OwnLimits(OfCompany):
    """A limits profile that the company has kept: the text of its file, read by `server.data`."""

    name: str
    text: str
    ended: datetime | None = None
