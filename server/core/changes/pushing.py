"""Commands that move dates on purpose, and the one that agrees to what they push."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class PutOff(Command):
    """Something does not start before a time; None: nothing but its order holds it.

    A delivery that is ordered or promised arrives then instead.
    """

    activity_id: str
    until: datetime | None


@dataclass(frozen=True, kw_only=True)
class ChangeWork(Command):
    """Something takes so many minutes in all: of working time, of clock time for a wait."""

    activity_id: str
    work: int


@dataclass(frozen=True, kw_only=True)
class GiveCause(Command):
    """Why the dates of a detail moved on a day."""

    id: str
    detail_id: str
    day: date
    cause: str


@dataclass(frozen=True, kw_only=True)
class AgreePush(Command):
    """All of these commands, agreed after what they push was shown.

    `shown` is the digest of what was shown (`core.pushed.Pushed.digest`): if it would be something
    else by now, nothing is done. What each crew must hear is written down. `cause` is kept with
    each detail that finishes later. `id` is where the ids of those rows begin.
    """

    id: str
    detail_id: str
    commands: tuple[Command, ...]
    shown: str
    cause: str = ""


@dataclass(frozen=True, kw_only=True)
class Hear(Command):
    """A crew has heard these: it says so itself, or the super has told it."""

    telling_ids: tuple[str, ...]
