"""Commands about people: crews, persons, and what each may look at."""

from dataclasses import dataclass

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class KeepCrew(Command):
    """A crew, new or changed; see `world.Crew`."""

    id: str
    name: str
    trade: str
    foreman: str = ""
    phone: str = ""
    language: str = "en"
    calendar_id: str | None = None
    can_field: int = 1
    least_visit: int = 240
    notice: int = 1440


@dataclass(frozen=True, kw_only=True)
class EndCrew(Command):
    """A crew that does not come any more; refused while a chain counts on it."""

    crew_id: str


@dataclass(frozen=True, kw_only=True)
class KeepPerson(Command):
    """A person, new or changed; see `world.Person`."""

    id: str
    name: str
    role: str
    title: str = ""
    crew_id: str | None = None
    phone: str = ""
    email: str = ""
    language: str = "en"
    units: str = "in"
    answers_in: int = 2


@dataclass(frozen=True, kw_only=True)
class ChangeOwnWays(Command):
    """The language and the units of one's own pages."""

    person_id: str
    language: str
    units: str


@dataclass(frozen=True, kw_only=True)
class EndPerson(Command):
    """A person who may not look or press any more; their links and sessions end at once."""

    person_id: str


@dataclass(frozen=True, kw_only=True)
class Give(Command):
    """What a person may look at in this project: all of it (no ids), or these details."""

    id: str
    person_id: str
    detail_ids: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class TakeAway(Command):
    """A person may not look at this project any more."""

    person_id: str
