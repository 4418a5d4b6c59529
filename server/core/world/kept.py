"""What is kept of a detail's dates from day to day, and why they moved."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class DayFinish(OfProject):
    """The forecast finish of a detail as it was on the evening of a day."""

    detail_id: str
    day: date
    finish: datetime


@dataclass(frozen=True, kw_only=True)
class Cause(OfProject):
    """Why the dates of a detail moved on a day, in the words of whoever says so."""

    detail_id: str
    day: date
    text: str
    activity_id: str | None = None
    by_id: str
    at: datetime
