"""The warning of finish work ahead of the sample that it must match."""

from collections.abc import Iterable
from datetime import timedelta

from server.core.changes.base import Command
from server.core.changes.bookings import MoveVisit
from server.core.changes.inputs import ids_after
from server.core.changes.plan import AddDependency
from server.core.next import mover_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import ahead
from server.core.visits import end_of, first_day, not_ready_for, wanted
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, Booking, Snapshot

SAMPLE = "sample not accepted"
SAMPLE_TITLE = message("warning.sample_not_accepted.title")


@warns(SAMPLE, title=SAMPLE_TITLE, bad="lost work", family="supply")
def sample_not_accepted(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """What must match a sample is ready, booked, under way or done, and the sample is not accepted.

    Where the plan holds the work until it is, a visit is told only within its crew's notice: there
    is nothing else to keep it from coming.
    """
    for activity in snapshot.chain:
        sample = snapshot.activities.get(activity.sample_id or "")
        if sample is None or sample.finished is not None or sample.ended is not None:
            continue
        visit = _visit(snapshot, schedule, activity, sample)
        begun = activity.started is not None or activity.finished is not None
        if not begun and visit is None and not schedule[activity.id].ready:
            continue
        standing = "begun" if begun else "booked" if visit else "ready"
        yield about(
            snapshot,
            SAMPLE,
            _said(activity, sample, visit, begun),
            (activity, sample),
            facts=(sample.id, standing, visit and visit.start),
            at=activity.started or (visit.start if visit else schedule[activity.id].early_start),
            layer_ids=tuple(
                e.layer_id for e in snapshot.effects_of.get(activity.id, ()) if e.verb == "puts in"
            ),
            who=mover_of(snapshot, sample, schedule),
            mends=[
                *(() if begun else _mends(snapshot, schedule, activity, sample, visit)),
                Mend(message("warning.record_answer"), goto_activity_id=sample.id),
            ],
        )


def _visit(
    snapshot: Snapshot, schedule: Schedule, activity: Activity, sample: Activity
) -> Booking | None:
    """The visit that comes before the sample is accepted, if nothing else tells of it."""
    visit = next(iter(wanted(snapshot, activity.id, schedule.status)), None)
    if visit is None or sample.id not in ahead(snapshot, activity.id):
        return visit
    near = timedelta(minutes=snapshot.crews[visit.crew_id].notice)
    told = not_ready_for(snapshot, schedule, visit) is not None
    return visit if not told and visit.start - schedule.status <= near else None


def _said(activity: Activity, sample: Activity, visit: Booking | None, begun: bool) -> Message:
    if begun:
        return message("warning.sample_not_accepted.begun", work=activity.name, sample=sample.name)
    if visit is not None:
        return message(
            "warning.sample_not_accepted.booked",
            work=activity.name,
            sample=sample.name,
            when=visit.start,
        )
    return message("warning.sample_not_accepted.ready", work=activity.name, sample=sample.name)


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    activity: Activity,
    sample: Activity,
    visit: Booking | None,
) -> list[Mend]:
    """The work comes after the sample; a visit for it moves to when that is accepted."""
    commands: list[Command] = []
    if sample.id not in ahead(snapshot, activity.id):
        id = next(ids_after(activity.id, snapshot.dependencies))
        commands.append(AddDependency(id=id, before_id=sample.id, after_id=activity.id))
    if visit is None:
        label = message("warning.first_before", work=(sample.name,), after=activity.name)
        return [Mend(label, tuple(commands))]
    crew = snapshot.crews[visit.crew_id]
    noticed = schedule.status + timedelta(minutes=crew.notice + 1)
    accepted = max(noticed, schedule[activity.id].early_start, schedule[sample.id].early_finish)
    start = first_day(snapshot, activity, accepted)
    finish = max(end_of(snapshot, (activity,), start), start + (visit.finish - visit.start))
    commands.append(MoveVisit(booking_id=visit.id, start=start, finish=finish))
    return [Mend(message("warning.move_visit", crew=crew.name, day=start), tuple(commands))]
