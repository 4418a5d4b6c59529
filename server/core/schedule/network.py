"""What a schedule is computed from: activities, dependencies, calendars, a start and a status."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Literal

from server.core.schedule.calendars import Calendar


class Kind(StrEnum):
    """What an activity is; its rules for starting by itself, notice and arrival follow from it."""

    TASK = "task"
    WAIT = "wait"
    HOLD = "hold"
    DELIVERY = "delivery"
    DECISION = "decision"


@dataclass(frozen=True, slots=True)
class Activity:
    """One thing to be done, waited for, looked at, brought or decided.

    Durations (`work`, `remaining`, `low`, `high`, `rework`) are minutes on `calendar`, a key of
    `Network.calendars`; `notice` is clock minutes. Datetimes are naive local time, floored to the
    minute.

    - `not_before`, `finish_by`: dates it is held to from outside.
    - `one_day`: it starts only on a day on which it also finishes (a coat, a pour).
    - `started`, `finished`: what happened; `remaining`: minutes still to do, once started.
    - `notice`, `called`, `reject`, `rework`: for a hold point.
    - `ordered`, `promised`: for a delivery.
    - `crews`: how many of each crew it takes; `low`, `high`: the range around `work`.
    """

    id: str
    work: int
    calendar: str = "site"
    kind: Kind = Kind.TASK
    crews: Mapping[str, int] = field(default_factory=dict, hash=False)
    not_before: datetime | None = None
    finish_by: datetime | None = None
    one_day: bool = False
    notice: int = 0
    called: datetime | None = None
    ordered: datetime | None = None
    promised: datetime | None = None
    started: datetime | None = None
    finished: datetime | None = None
    remaining: int | None = None
    low: int | None = None
    high: int | None = None
    reject: float = 0.0
    rework: int = 0


@dataclass(frozen=True, slots=True)
class Dependency:
    """`before` comes before `after`.

    `type` names the two ends, the one in `before` first: FS, SS, FF or SF. `lag` is the least time
    from one end to the other, in clock minutes or in working minutes of `after`'s calendar, and
    may be negative. `most` is the most clock minutes allowed between the same two ends.
    """

    before: str
    after: str
    type: Literal["FS", "SS", "FF", "SF"] = "FS"
    lag: int = 0
    lag_on: Literal["clock", "work"] = "clock"
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Network:
    """Activities with their dependencies and calendars.

    `start` is the earliest any of it may start. What lies before `status` happened, what lies
    after is forecast; None means `start`.
    """

    activities: Sequence[Activity]
    dependencies: Sequence[Dependency]
    calendars: Mapping[str, Calendar]
    start: datetime
    status: datetime | None = None
