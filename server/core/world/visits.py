"""Visits asked for, the dates everyone agreed to, and what a crew has to hear."""

from dataclasses import dataclass
from datetime import datetime

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class Booking(OfProject):
    """One coming of one crew, asked for one or more tasks: "asked", "coming", "can't come"."""

    crew_id: str
    activity_ids: tuple[str, ...]
    start: datetime
    finish: datetime
    state: str
    asked_by_id: str
    asked_at: datetime
    answered_by_id: str | None = None
    answered_at: datetime | None = None
    by_phone: bool = False
    other_day: datetime | None = None
    """The day the crew offers instead."""
    reason: str = ""
    ended: datetime | None = None
    promised: datetime | None = None
    """The first day the crew said it comes; the super's asking for another time ends that."""
    wasted: str = ""
    """Why the crew came and could not work."""
    wasted_at: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Agreed(OfProject):
    """The promised start and finish of an activity; the newest `round` of a detail counts."""

    activity_id: str
    detail_id: str
    round: int
    start: datetime
    finish: datetime
    by_id: str
    at: datetime
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class Telling(OfProject):
    """One thing that a crew has to hear since somebody agreed to it; `heard` when it has.

    `what` is "asked", "moves", "ends" or "breaks" of a visit, or "work" of work in one detail whose
    promised day moves, the first of it first. `was` and `now` are its times before and after: for a
    visit that breaks, when it comes and when its work is ready.
    """

    crew_id: str
    what: str
    activity_ids: tuple[str, ...]
    booking_id: str | None = None
    was: datetime | None = None
    now: datetime | None = None
    by_id: str
    at: datetime
    heard: datetime | None = None
    heard_by_id: str | None = None
