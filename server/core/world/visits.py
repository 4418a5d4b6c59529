"""Visits asked for and the dates everyone agreed to."""

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
