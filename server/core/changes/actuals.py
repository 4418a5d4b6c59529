"""Commands for what happened: started, done, what remains, ordered, arrived, answered."""

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class Start(Command):
    """Work has started. `anyway` is the super's reason when something before it is open."""

    activity_id: str
    when: datetime
    anyway: str = ""


@dataclass(frozen=True, kw_only=True)
class Finish(Command):
    """An activity is done. One that was never started is taken as started `started`, or refused."""

    activity_id: str
    when: datetime
    started: datetime | None = None
    anyway: str = ""


@dataclass(frozen=True, kw_only=True)
class SetRemaining(Command):
    """So many working minutes still to do, or so many percent `done`: one of the two.

    `cause` is why it takes longer.
    """

    activity_id: str
    remaining: int | None = None
    done: int | None = None
    cause: str = ""


@dataclass(frozen=True, kw_only=True)
class TakeBack(Command):
    """A start or a finish that was recorded by mistake, with a reason: the last of the two goes."""

    activity_id: str
    reason: str


@dataclass(frozen=True, kw_only=True)
class Order(Command):
    """A delivery was ordered; `promised` is the day its supplier promised."""

    activity_id: str
    when: datetime
    promised: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Arrive(Command):
    """A delivery is on site."""

    activity_id: str
    when: datetime


@dataclass(frozen=True, kw_only=True)
class CountOver(Command):
    """A delivery has been counted and looked over."""

    activity_id: str
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Answer(Command):
    """The answer to a decision, by the person who owes it (or the super, as told)."""

    activity_id: str
    answer: str


@dataclass(frozen=True, kw_only=True)
class AddReading(Command):
    """A reading of air, humidity, wood or plaster."""

    id: str
    place_id: str
    what: str
    typed: str
    where: str = ""


@dataclass(frozen=True, kw_only=True)
class AddSheet(Command):
    """A drawing of a detail, or a new revision of one (`replaces_id`)."""

    id: str
    detail_id: str
    number: str
    revision: str
    title: str = ""
    dated: date | None = None
    replaces_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class AddTemporary(Command):
    """A temporary work is in. `risers` of a stair; `rise` of a stair or a deck, in inches."""

    id: str
    kind: str
    name: str
    detail_id: str | None = None
    place_id: str | None = None
    crew_id: str | None = None
    daily: bool = True
    risers: int = 0
    rise: Fraction | None = None
    put_in: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class LookAtTemporary(Command):
    """Today's look at a temporary work."""

    id: str
    temporary_id: str
    in_order: bool = True
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class TakeOutTemporary(Command):
    """A temporary work is out."""

    temporary_id: str
    when: datetime


@dataclass(frozen=True, kw_only=True)
class AcceptWarning(Command):
    """The super accepts a warning, with a reason, until a day."""

    id: str
    warning: str
    reason: str
    until: date
