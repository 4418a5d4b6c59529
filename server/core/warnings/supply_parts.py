"""The warning of a crew that comes and whose parts are not here."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from server.core.changes.actuals import Arrive, CountOver
from server.core.changes.base import Command
from server.core.changes.bookings import MoveVisit
from server.core.deliveries import here_at, missing_for
from server.core.next import mover_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.visits import end_of, first_day, still_to_do
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, Booking, Snapshot

PARTS = "crew coming, parts not here"
PARTS_TITLE = message("warning.parts_not_here.title")


@warns(PARTS, title=PARTS_TITLE, bad="in the way", family="supply")
def parts_not_here(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A visit within its crew's notice, and what is brought for it is not here, or not counted.

    See `deliveries.missing_for`. That the work is not ready for it is then not told too.
    """
    for visit in snapshot.bookings.values():
        missing, uncounted = missing_for(snapshot, schedule, visit)
        if not missing and not uncounted:
            continue
        tasks = still_to_do(snapshot, visit)
        yield about(
            snapshot,
            PARTS,
            _said(snapshot, visit, tasks, missing, uncounted),
            (*tasks, *missing, *uncounted),
            subject=(visit.id,),
            facts=(visit.start, *(a.id for a in missing), "", *(a.id for a in uncounted)),
            at=visit.start,
            who=mover_of(snapshot, (missing or uncounted)[0], schedule),
            mends=_mends(snapshot, schedule, visit, tasks, missing, uncounted),
        )


def _said(
    snapshot: Snapshot,
    visit: Booking,
    tasks: tuple[Activity, ...],
    missing: tuple[Activity, ...],
    uncounted: tuple[Activity, ...],
) -> Message:
    crew, work = snapshot.crews[visit.crew_id].name, tuple(a.name for a in tasks)
    if not missing:
        return message(
            "warning.parts_not_here.uncounted",
            crew=crew,
            when=visit.start,
            work=work,
            parts=tuple(a.name for a in uncounted),
        )
    return message(
        "warning.parts_not_here.said",
        crew=crew,
        when=visit.start,
        work=work,
        parts=tuple(a.name for a in missing),
    )


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    visit: Booking,
    tasks: tuple[Activity, ...],
    missing: tuple[Activity, ...],
    uncounted: tuple[Activity, ...],
) -> list[Mend]:
    """They are here and in order; else the crew is asked for when they are."""
    status = schedule.status
    here: list[Command] = [Arrive(activity_id=a.id, when=status) for a in missing]
    here += [CountOver(activity_id=a.id) for a in (*missing, *uncounted)]
    names = tuple(a.name for a in (*missing, *uncounted))
    mends = [Mend(message("warning.here_and_counted", what=names), tuple(here))]
    if missing:
        mends.append(_later(snapshot, schedule, visit, tasks, missing))
    return mends


def _later(
    snapshot: Snapshot,
    schedule: Schedule,
    visit: Booking,
    tasks: tuple[Activity, ...],
    missing: tuple[Activity, ...],
) -> Mend:
    """The first day on which all is here, and that leaves the crew its notice."""
    crew = snapshot.crews[visit.crew_id]
    noticed = schedule.status + timedelta(minutes=crew.notice + 1)
    ready: list[datetime] = [here_at(schedule, a) for a in missing]
    ready += [schedule[tasks[0].id].early_start, noticed]
    start = first_day(snapshot, tasks[0], max(ready))
    last = max(schedule[a.id].early_finish for a in tasks)
    finish = max(end_of(snapshot, tasks, start), last if len(tasks) > 1 else start)
    return Mend(
        message("warning.move_visit", crew=crew.name, day=start),
        (MoveVisit(booking_id=visit.id, start=start, finish=finish),),
    )
