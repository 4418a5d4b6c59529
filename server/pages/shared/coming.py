"""When a crew comes for a task, and when what a check looks at is hidden by it."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.cover import covering
from server.core.schedule import Schedule
from server.core.visits import visit_for
from server.core.world import Activity, HoldPoint, Snapshot
from server.words.words import Words


@dataclass(frozen=True)
class Coming:
    """When a task starts. `state` is the visit's, or "forecast" where none was asked for."""

    at: datetime
    state: str

    @property
    def shown(self) -> date:
        """A visit has an hour; a forecast is only as good as its day."""
        return self.at.date() if self.state == "forecast" else self.at


def coming(snapshot: Snapshot, schedule: Schedule, activity: Activity) -> Coming:
    """The visit that is still wanted for a task not started, else its earliest start."""
    visit = visit_for(snapshot, activity.id)
    if visit is not None and visit.state != "can't come" and activity.started is None:
        return Coming(visit.start, visit.state)
    return Coming(schedule[activity.id].early_start, "forecast")


def tight(text: str) -> str:
    """The same on one line: a day and its number, a number and its unit stay together."""
    return text.replace(" ", "\u00a0")


def when(words: Words, at: date, now: datetime) -> str:
    """A day or moment seen from now, kept on one line."""
    return tight(words.when(at, now))


@dataclass(frozen=True)
class Hiding:
    """The work that hides what a check looks at, and when it comes."""

    work: Activity
    coming: Coming


def hidden_by(snapshot: Snapshot, schedule: Schedule, hold: HoldPoint) -> Hiding | None:
    """What hides what this check looks at first; None where nothing does, or it has begun.

    Where a crew is coming, its visit is when: earlier the work could go, but nobody is there.
    """
    found = [
        Hiding(task, coming(snapshot, schedule, task))
        for task in covering(snapshot, hold)
        if task.started is None and task.finished is None
    ]
    return min(found, key=lambda hiding: hiding.coming.at, default=None)
