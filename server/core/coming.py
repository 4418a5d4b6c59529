"""Work that is at hand: under way, with a visit asked for, or soon by its crew's notice."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from server.core.changes.bookings import MoveVisit
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.visits import end_of, first_day, still_to_do, wanted
from server.core.world import Activity, Booking, Snapshot

How = Literal["under way", "visit", "soon"]


@dataclass(frozen=True)
class Coming:
    """A task that is at hand: since or from when, and the first visit for it, if that says so."""

    work: Activity
    how: How
    at: datetime
    visit: Booking | None = None

    @property
    def fact(self) -> tuple[str, str, datetime | None]:
        """What an identity is made of. A forecast slides with the clock and is no fact."""
        return self.work.id, self.how, None if self.how == "soon" else self.at

    @property
    def said(self) -> Message:
        """Its name, and when it comes."""
        if self.how == "under way":
            return message("warning.coming.under_way", work=self.work.name)
        if self.how == "visit":
            return message("warning.coming.visit", work=self.work.name, at=self.at)
        return message("warning.coming.soon", work=self.work.name, at=self.at)


def notice_of(snapshot: Snapshot, work: Activity) -> timedelta:
    """How long before it its crews want to know; nothing where it has none."""
    return timedelta(minutes=max((snapshot.crews[id].notice for id in work.crew_ids), default=0))


def coming(snapshot: Snapshot, schedule: Schedule, work: Activity) -> Coming | None:
    """How a task is at hand; None where it is done, or nobody comes for it yet."""
    if work.kind != "task" or work.finished is not None:
        return None
    if work.started is not None:
        return Coming(work, "under way", work.started)
    visits = wanted(snapshot, work.id, schedule.status)
    if visits:
        return Coming(work, "visit", visits[0].start, visits[0])
    dates = schedule[work.id]
    if dates.ready or dates.early_start - schedule.status <= notice_of(snapshot, work):
        return Coming(work, "soon", dates.early_start)
    return None


def later(
    snapshot: Snapshot, schedule: Schedule, visit: Booking, after: datetime
) -> tuple[datetime, MoveVisit] | None:
    """A visit asked for on the first day of its crew wholly after a moment; None if none is left.

    It lasts as long as its tasks take; one for several tasks no shorter than it was.
    """
    tasks = still_to_do(snapshot, visit)
    if not tasks:
        return None
    early = schedule[tasks[0].id].early_start
    start = first_day(
        snapshot, tasks[0], max(early, max(after, schedule.status) + timedelta(minutes=1))
    )
    finish = end_of(snapshot, tasks, start)
    if len(tasks) > 1:
        finish = max(finish, start + (visit.finish - visit.start))
    return start, MoveVisit(booking_id=visit.id, start=start, finish=finish)
