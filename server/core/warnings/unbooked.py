"""The warning of work that is ready and that nobody has been asked for."""

from collections.abc import Iterable
from datetime import datetime, time, timedelta

from server.core.changes.bookings import AskVisit
from server.core.changes.inputs import ids_after
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import ahead
from server.core.visits import end_of, first_day, wanted
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Crew, Snapshot

NOBODY = "ready, nobody booked"
NOBODY_TITLE = message("warning.nobody_booked.title")


@warns(NOBODY, title=NOBODY_TITLE, bad="in the way", family="booking")
def nobody_booked(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Ready, or ready within its crew's notice, and no visit asked for.

    Not where the crew is at work in the same detail and simply goes on, nor where it has to come
    for something before it and is not asked for that either: that is told. Nor where it has said
    that it can't come.
    """
    for activity in snapshot.chain:
        if activity.kind != "task" or activity.started or activity.finished:
            continue
        if activity.crew_id is None:
            if schedule[activity.id].ready:
                yield _no_crew(snapshot, schedule, activity)
            continue
        for crew_id in (activity.crew_id, *activity.with_crew_ids):
            crew = snapshot.crews[crew_id]
            if _near(schedule, activity, crew) and not _seen_to(snapshot, schedule, activity, crew):
                yield _nobody(snapshot, schedule, activity, crew)


def _near(schedule: Schedule, activity: Activity, crew: Crew) -> bool:
    dates = schedule[activity.id]
    notice = timedelta(minutes=crew.notice)
    return dates.ready or dates.early_start - schedule.status <= notice


def _seen_to(snapshot: Snapshot, schedule: Schedule, activity: Activity, crew: Crew) -> bool:
    """Whether the crew is asked, has refused, is at work there, or is not asked for the first."""
    if _asked(snapshot, schedule, activity.id, crew):
        return True
    if any(
        b.crew_id == crew.id and b.ended is None and b.state == "can't come"
        for b in snapshot.visits_of.get(activity.id, ())
    ):
        return True
    before = ahead(snapshot, activity.id)
    own = (
        a
        for a in snapshot.chain_of(activity.detail_id)
        if a.kind == "task" and not a.finished and crew.id in (a.crew_id, *a.with_crew_ids)
    )
    return any(
        a.started or (a.id in before and not _asked(snapshot, schedule, a.id, crew)) for a in own
    )


def _asked(snapshot: Snapshot, schedule: Schedule, activity_id: str, crew: Crew) -> bool:
    return any(b.crew_id == crew.id for b in wanted(snapshot, activity_id, schedule.status))


def _nobody(snapshot: Snapshot, schedule: Schedule, activity: Activity, crew: Crew) -> Warning:
    status, dates = schedule.status, schedule[activity.id]
    start = first_day(snapshot, activity, max(_free(snapshot, schedule, activity, crew), status))
    if start <= status:
        start = first_day(snapshot, activity, status + timedelta(minutes=1))
    return Warning(
        rule=NOBODY,
        bad="in the way",
        title=NOBODY_TITLE,
        sentence=message(
            "warning.nobody_booked.said" if dates.ready else "warning.nobody_booked.soon",
            crew=crew.name,
            work=activity.name,
            when=dates.early_start,
        ),
        subject=(activity.id, crew.id),
        identity=identity(NOBODY, activity.id, crew.id, dates.ready),
        at=dates.late_start,
        detail_id=activity.detail_id,
        activity_ids=(activity.id,),
        place_ids=places_of(snapshot, (activity.id,)),
        crew_id=crew.id,
        mends=(
            Mend(
                message("warning.ask_for", crew=crew.name, day=start),
                (
                    AskVisit(
                        id=next(ids_after(activity.id, snapshot.bookings)),
                        activity_ids=(activity.id,),
                        start=start,
                        finish=end_of(snapshot, (activity,), start, crew.id),
                        crew_id=crew.id,
                    ),
                ),
            ),
        ),
    )


def _free(snapshot: Snapshot, schedule: Schedule, activity: Activity, crew: Crew) -> datetime:
    """When a task is ready, what comes before it has had its visits, and the crew its notice."""
    # a crew that wants a day's notice can be asked for tomorrow morning
    noticed = datetime.combine((schedule.status + timedelta(minutes=crew.notice)).date(), time(0))
    visits = (
        visit.finish
        for id in ahead(snapshot, activity.id)
        if snapshot.activities[id].started is None
        for visit in wanted(snapshot, id, schedule.status)
    )
    return max(schedule[activity.id].early_start, noticed, *visits)


def _no_crew(snapshot: Snapshot, schedule: Schedule, activity: Activity) -> Warning:
    return Warning(
        rule=NOBODY,
        bad="in the way",
        title=NOBODY_TITLE,
        sentence=message("warning.nobody_booked.no_crew", work=activity.name),
        subject=(activity.id,),
        identity=identity(NOBODY, activity.id),
        at=schedule[activity.id].late_start,
        detail_id=activity.detail_id,
        activity_ids=(activity.id,),
        place_ids=places_of(snapshot, (activity.id,)),
    )
