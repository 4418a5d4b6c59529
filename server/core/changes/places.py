"""Commands for the house: a project, its floors, places and ways, the company's calendars."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class StartProject(Command):
    """A new house under construction."""

    id: str
    name: str
    time_zone: str
    start: datetime
    calendar_id: str
    about: str = ""


@dataclass(frozen=True, kw_only=True)
class ChangeProject(Command):
    """Another name, start, calendar."""

    project_id: str
    name: str
    time_zone: str
    start: datetime
    calendar_id: str
    about: str = ""


@dataclass(frozen=True, kw_only=True)
class KeepCalendar(Command):
    """A calendar of the company, new or with other hours; see `world.WorkCalendar`.

    Without `closed` or `extra` these days stay as they are; without `shifts` the week is that of
    the calendar it follows.
    """

    id: str
    name: str
    shifts: tuple[str, ...]
    closed: tuple[date, ...] | None = None
    extra: tuple[str, ...] | None = None
    based_on_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class AddFloor(Command):
    """A level of the house, above those there are."""

    id: str
    name: str


@dataclass(frozen=True, kw_only=True)
class ChangeFloor(Command):
    """Another name of a level."""

    floor_id: str
    name: str


@dataclass(frozen=True, kw_only=True)
class KeepPlace(Command):
    """A place where people stand, new or changed."""

    id: str
    name: str
    floor_id: str
    room_for: int = 1
    open_to: tuple[str, ...] = ()
    air: str = ""


@dataclass(frozen=True, kw_only=True)
class KeepWay(Command):
    """A way up and out, new or changed."""

    id: str
    name: str
    lower_id: str
    upper_id: str
    carries: bool = True


@dataclass(frozen=True, kw_only=True)
class MoveClock(Command):
    """A demo's clock is set on to another instant; refused where the clock is real, or backward."""

    to: datetime
