"""Commands about visits: ask a crew, its answer, take it back; agree dates."""

from dataclasses import dataclass
from datetime import datetime

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class AskVisit(Command):
    """Ask a crew to come for one or more of its tasks.

    `crew_id` says which of those that do them together; None: the first not asked yet.
    """

    id: str
    activity_ids: tuple[str, ...]
    start: datetime
    finish: datetime
    crew_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class AnswerVisit(Command):
    """Coming, or can't come (with another day, if there is one). `by_phone`: the super heard it."""

    booking_id: str
    coming: bool
    other_day: datetime | None = None
    reason: str = ""
    by_phone: bool = False


@dataclass(frozen=True, kw_only=True)
class MoveVisit(Command):
    """Ask the same visit for another time; the crew answers again."""

    booking_id: str
    start: datetime
    finish: datetime


@dataclass(frozen=True, kw_only=True)
class ChangeVisitWork(Command):
    """The same visit for other work of its crew. Asked for more than before, it answers again."""

    booking_id: str
    activity_ids: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class EndVisit(Command):
    """A visit that is not wanted any more."""

    booking_id: str
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class WasteVisit(Command):
    """The crew came and could not work, and why."""

    booking_id: str
    why: str


@dataclass(frozen=True, kw_only=True)
class AgreeDates(Command):
    """The forecast dates of a detail become its promised dates (a new round, with a reason)."""

    detail_id: str
    reason: str = ""
