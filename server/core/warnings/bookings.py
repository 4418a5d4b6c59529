"""Warnings of visits: asked too soon, not asked at all, refused."""

from collections.abc import Iterable
from datetime import datetime, time, timedelta

from server.core.changes.bookings import AskVisit, MoveVisit
from server.core.next import visit_for
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Booking, Snapshot
from server.core.world.hours import first_hour

HALF_DAY = timedelta(hours=4)


@warns(
    "booked before ready",
    title=message("warning.booked_before_ready.title"),
    bad="in the way",
    family="booking",
)
def booked_before_ready(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The forecast start has left the day a crew was asked for."""
    for booking in snapshot.bookings.values():
        if booking.ended is not None or booking.state == "can't come":
            continue
        for activity in _open(snapshot, booking):
            ready = schedule[activity.id].early_start
            if ready.date() <= booking.finish.date():
                continue
            crew = snapshot.crews[booking.crew_id]
            start = first_hour(snapshot, activity, ready)
            yield Warning(
                rule="booked before ready",
                bad="in the way",
                title=message("warning.booked_before_ready.title"),
                sentence=message(
                    "warning.booked_before_ready.said",
                    crew=crew.name,
                    when=booking.start,
                    work=activity.name,
                    ready=ready,
                ),
                identity=identity(
                    "booked before ready", booking.id, booking.start, activity.id, ready.date()
                ),
                detail_id=activity.detail_id,
                activity_ids=(activity.id,),
                crew_id=crew.id,
                mends=(
                    Mend(
                        message("warning.move_visit", crew=crew.name, day=start),
                        (
                            MoveVisit(
                                booking_id=booking.id,
                                start=start,
                                finish=start + (booking.finish - booking.start),
                            ),
                        ),
                    ),
                ),
            )
            break


@warns(
    "ready, nobody booked",
    title=message("warning.nobody_booked.title"),
    bad="in the way",
    family="booking",
)
def nobody_booked(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Ready, or ready within its crew's notice, and no visit asked for."""
    status = schedule.status
    for activity in snapshot.chain:
        crew = snapshot.crews.get(activity.crew_id or "")
        if activity.kind != "task" or crew is None or activity.started or activity.finished:
            continue
        dates = schedule[activity.id]
        if not dates.ready and dates.early_start - status > timedelta(minutes=crew.notice):
            continue
        if visit_for(snapshot, activity.id) is not None or _on_site(snapshot, activity):
            continue
        start = first_hour(snapshot, activity, max(dates.early_start, _next_day(status)))
        yield Warning(
            rule="ready, nobody booked",
            bad="in the way",
            title=message("warning.nobody_booked.title"),
            sentence=message(
                "warning.nobody_booked.said" if dates.ready else "warning.nobody_booked.soon",
                crew=crew.name,
                work=activity.name,
                when=dates.early_start,
            ),
            identity=identity("ready, nobody booked", activity.id, crew.id, dates.ready),
            detail_id=activity.detail_id,
            activity_ids=(activity.id,),
            crew_id=crew.id,
            mends=(
                Mend(
                    message("warning.ask_for", crew=crew.name, day=start),
                    (
                        AskVisit(
                            id=f"{activity.id}v{start:%m%d}",
                            activity_ids=(activity.id,),
                            start=start,
                            finish=start + max(HALF_DAY, timedelta(minutes=crew.least_visit)),
                        ),
                    ),
                ),
            ),
        )


@warns(
    "can't come",
    title=message("warning.cannot_come.title"),
    bad="in the way",
    family="booking",
)
def cannot_come(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A crew has said that it can't come, and nothing else has been asked."""
    for booking in snapshot.bookings.values():
        activities = _open(snapshot, booking)
        if booking.ended is not None or booking.state != "can't come" or not activities:
            continue
        if any(
            (other := visit_for(snapshot, a.id)) is not None and other.state != "can't come"
            for a in activities
        ):
            continue
        crew = snapshot.crews[booking.crew_id]
        day = booking.other_day
        if day is None or day <= schedule.status:
            day = first_hour(
                snapshot,
                activities[0],
                max(schedule[activities[0].id].early_start, _next_day(booking.start)),
            )
        elif day.time() == time(0):
            day = first_hour(snapshot, activities[0], day)
        yield Warning(
            rule="can't come",
            bad="in the way",
            title=message("warning.cannot_come.title"),
            sentence=message(
                "warning.cannot_come.offers" if booking.other_day else "warning.cannot_come.said",
                crew=crew.name,
                when=booking.start,
                work=tuple(a.name for a in activities),
                other=booking.other_day,
            ),
            identity=identity("can't come", booking.id, booking.start, booking.other_day),
            detail_id=activities[0].detail_id,
            activity_ids=tuple(a.id for a in activities),
            crew_id=crew.id,
            mends=(
                Mend(
                    message("warning.ask_for", crew=crew.name, day=day),
                    (
                        MoveVisit(
                            booking_id=booking.id,
                            start=day,
                            finish=day + (booking.finish - booking.start),
                        ),
                    ),
                ),
            ),
        )


def _open(snapshot: Snapshot, booking: Booking) -> tuple[Activity, ...]:
    """The tasks of a visit that have not started and are still to be done."""
    tasks = (snapshot.activities[id] for id in booking.activity_ids)
    return tuple(a for a in tasks if not a.started and not a.finished and not a.ended)


def _on_site(snapshot: Snapshot, activity: Activity) -> bool:
    """Whether its crew is at work in the same detail and simply goes on."""
    return any(
        a.crew_id == activity.crew_id and a.started is not None and a.finished is None
        for a in snapshot.chain_of(activity.detail_id)
    )


def _next_day(at: datetime) -> datetime:
    return datetime.combine(at.date() + timedelta(days=1), time(0))
