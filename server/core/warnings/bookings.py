"""Warnings of visits: asked too soon, refused, asked for less than the crew comes for."""

from collections.abc import Iterable, Iterator
from datetime import datetime, time, timedelta

from server.core.changes.bookings import MoveVisit
from server.core.deliveries import missing_for
from server.core.next import mover_of, waits_for
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.visits import end_of, first_day, is_open, not_ready_for, still_to_do, wanted
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.making import about
from server.core.world import Activity, Booking, Crew, Snapshot
from server.core.world.hours import first_hour

EARLY = "booked before ready"
EARLY_TITLE = message("warning.booked_before_ready.title")
CANNOT = "can't come"
CANNOT_TITLE = message("warning.cannot_come.title")
SHORT = "shorter than its least visit"
SHORT_TITLE = message("warning.short_visit.title")


@warns(EARLY, title=EARLY_TITLE, bad="in the way", family="booking")
def booked_before_ready(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The forecast leaves the day that a crew is asked for: see `visits.not_ready_for`.

    Where it waits for parts and comes within its notice, that is told as parts not here.
    """
    for booking in snapshot.bookings.values():
        late = not_ready_for(snapshot, schedule, booking)
        if late is None:
            continue
        tasks = still_to_do(snapshot, booking)
        ready = schedule[late.id].early_start
        waits = waits_for(snapshot, schedule, late)
        if waits in missing_for(snapshot, schedule, booking)[0]:
            continue
        crew = snapshot.crews[booking.crew_id]
        crew_id, person_id = mover_of(snapshot, waits, schedule) if waits else (crew.id, None)
        ids = tuple(a.id for a in tasks)
        start = first_day(snapshot, tasks[0], schedule[tasks[0].id].early_start)
        if late is not tasks[0]:
            start = booking.start
        yield Warning(
            rule=EARLY,
            bad="in the way",
            title=EARLY_TITLE,
            sentence=_too_early(crew, booking, late, ready, waits),
            subject=(booking.id,),
            identity=identity(EARLY, booking.id, booking.start, late.id, ready.date()),
            at=booking.start,
            detail_id=late.detail_id,
            activity_ids=ids,
            place_ids=places_of(snapshot, ids),
            crew_id=crew_id,
            person_id=person_id,
            mends=(_move(snapshot, schedule, booking, tasks, start),),
        )


def _too_early(
    crew: Crew, booking: Booking, late: Activity, ready: datetime, waits: Activity | None
) -> Message:
    if waits is None:
        return message(
            "warning.booked_before_ready.said",
            crew=crew.name,
            when=booking.start,
            work=late.name,
            ready=ready,
        )
    return message(
        "warning.booked_before_ready.waits",
        crew=crew.name,
        when=booking.start,
        work=late.name,
        ready=ready,
        waits=waits.name,
    )


@warns(CANNOT, title=CANNOT_TITLE, bad="in the way", family="booking")
def cannot_come(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A crew has said that it can't come, and nothing else has been asked of it."""
    for booking in snapshot.bookings.values():
        if booking.ended is not None or booking.state != "can't come":
            continue
        tasks = tuple(
            a
            for a in still_to_do(snapshot, booking)
            if not any(
                b.crew_id == booking.crew_id for b in wanted(snapshot, a.id, schedule.status)
            )
        )
        if not tasks:
            continue
        crew = snapshot.crews[booking.crew_id]
        other = booking.other_day
        offered = other if other is not None and other > schedule.status else None
        ids = tuple(a.id for a in tasks)
        yield Warning(
            rule=CANNOT,
            bad="in the way",
            title=CANNOT_TITLE,
            sentence=message(
                "warning.cannot_come.offers" if offered else "warning.cannot_come.said",
                crew=crew.name,
                when=booking.start,
                work=tuple(a.name for a in tasks),
                other=offered,
            ),
            subject=(booking.id,),
            identity=identity(CANNOT, booking.id, booking.start, booking.other_day),
            at=booking.start,
            detail_id=tasks[0].detail_id,
            activity_ids=ids,
            place_ids=places_of(snapshot, ids),
            crew_id=crew.id,
            mends=tuple(
                _move(snapshot, schedule, booking, tasks, day)
                for day in dict.fromkeys(_other_days(snapshot, schedule, booking, tasks, offered))
            ),
        )


def _other_days(
    snapshot: Snapshot,
    schedule: Schedule,
    booking: Booking,
    tasks: tuple[Activity, ...],
    offered: datetime | None,
) -> Iterator[datetime]:
    """The day the crew offers; else the first on which the work is ready after the day refused."""
    if offered is not None:
        yield first_hour(snapshot, tasks[0], offered)
        return
    refused = datetime.combine(booking.start.date() + timedelta(days=1), time(0))
    ready = schedule[tasks[0].id].early_start
    yield first_day(snapshot, tasks[0], max(ready, refused, schedule.status + timedelta(minutes=1)))


def _move(
    snapshot: Snapshot,
    schedule: Schedule,
    booking: Booking,
    tasks: tuple[Activity, ...],
    start: datetime,
) -> Mend:
    """Asking the crew for then, and for as long as all its tasks take with what lies between."""
    crew = snapshot.crews[booking.crew_id].name
    last = max(schedule[a.id].early_finish for a in tasks)
    finish = max(end_of(snapshot, tasks, start), last if len(tasks) > 1 else start)
    return Mend(
        message("warning.move_visit", crew=crew, day=start),
        (MoveVisit(booking_id=booking.id, start=start, finish=finish),),
    )


@warns(SHORT, title=SHORT_TITLE, bad="watch", family="booking")
def shorter_than_least(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A crew is asked for less than it comes for, and has not said that it comes anyway."""
    for booking in snapshot.bookings.values():
        crew = snapshot.crews[booking.crew_id]
        asked = booking.finish - booking.start
        least = timedelta(minutes=crew.least_visit)
        ahead = is_open(booking, schedule.status) and booking.start > schedule.status
        tasks = still_to_do(snapshot, booking)
        if booking.state != "asked" or not ahead or not tasks or asked >= least:
            continue
        finish = booking.start + least
        yield about(
            snapshot,
            SHORT,
            message(
                "warning.short_visit.said",
                crew=crew.name,
                when=booking.start,
                asked=asked,
                least=least,
            ),
            tasks,
            subject=(booking.id,),
            facts=(booking.start, booking.finish, crew.least_visit),
            at=booking.start,
            who=(crew.id, None),
            mends=[
                Mend(
                    message("warning.short_visit.longer", crew=crew.name, until=finish),
                    (MoveVisit(booking_id=booking.id, start=booking.start, finish=finish),),
                )
            ],
        )
