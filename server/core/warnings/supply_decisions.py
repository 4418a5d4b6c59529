"""Warnings of decisions: overdue, and due."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from server.core.changes.bookings import AgreeDates
from server.core.next import mover_of
from server.core.promises import promised
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import open_before
from server.core.visits import end_of
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about, with_facts
from server.core.world import Activity, Person, Snapshot

OVERDUE = "decision overdue"
OVERDUE_TITLE = message("warning.decision_overdue.title")
DUE = "decision due"
DUE_TITLE = message("warning.decision_due.title")


@warns(OVERDUE, title=OVERDUE_TITLE, bad="in the way", family="supply")
def decision_overdue(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Later than the chain allows, its own fixed day, or the day promised for it: see `_by`."""
    for activity, person in _owed(snapshot, schedule):
        by = _by(snapshot, schedule, activity, _takes(person))
        if by >= schedule.status:
            continue
        facts = (activity.finish_by, _promised(snapshot, activity), activity.person_id)
        yield about(
            snapshot,
            OVERDUE,
            _said(activity, person, by, OVERDUE),
            (activity, *_held(snapshot, activity)),
            facts=facts,
            at=by,
            who=mover_of(snapshot, activity, schedule),
            mends=[_answered(activity), *_mends(snapshot, activity)],
        )


@warns(DUE, title=DUE_TITLE, bad="watch", family="supply")
def decision_due(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """No more time is left for it than its person usually takes."""
    for activity, person in _owed(snapshot, schedule):
        takes, status = _takes(person), schedule.status
        by = _by(snapshot, schedule, activity, takes)
        if by < status or by - status > takes:
            continue
        yield about(
            snapshot,
            DUE,
            _said(activity, person, by, DUE),
            (activity, *_held(snapshot, activity)),
            facts=(activity.person_id,),
            at=by,
            who=mover_of(snapshot, activity, schedule),
            mends=[_answered(activity)],
        )


def _owed(snapshot: Snapshot, schedule: Schedule) -> Iterator[tuple[Activity, Person | None]]:
    """The decisions that could be made now, and who owes them.

    What waits for a drawing or a sample is not late by its person.
    """
    for activity in snapshot.chain:
        if activity.kind != "decision" or activity.finished is not None:
            continue
        later = activity.not_before is not None and activity.not_before > schedule.status
        if not later and not open_before(snapshot, activity.id, schedule):
            _, person_id = mover_of(snapshot, activity, schedule)
            yield activity, snapshot.people.get(person_id or "")


def _by(snapshot: Snapshot, schedule: Schedule, activity: Activity, takes: timedelta) -> datetime:
    """The last moment for it: by the plan, by its own fixed day, by the day promised.

    A decision that sets the finish would be put off day by day: there it is when the time that the
    plan gives it, or its person takes, has run out since it could be made.
    """
    dates = schedule[activity.id]
    days = [dates.late_finish, activity.finish_by, _promised(snapshot, activity)]
    if activity.work and dates.late_start <= schedule.status:
        since = _since(snapshot, schedule, activity)
        days.append(max(end_of(snapshot, (activity,), since), since + takes))
    return min(day for day in days if day is not None)


def _since(snapshot: Snapshot, schedule: Schedule, activity: Activity) -> datetime:
    """Since when it could be made."""
    before = (
        schedule[d.before_id].early_finish
        for d in snapshot.before.get(activity.id, ())
        if d.before_id in schedule
    )
    return max(activity.not_before or snapshot.project.start, snapshot.project.start, *before)


def _takes(person: Person | None) -> timedelta:
    return timedelta(days=person.answers_in if person else 0)


def _promised(snapshot: Snapshot, activity: Activity) -> datetime | None:
    one = promised(snapshot, activity.detail_id).get(activity.id)
    return one.finish if one else None


def _held(snapshot: Snapshot, activity: Activity) -> tuple[Activity, ...]:
    """What comes right after it and has not begun."""
    found = (snapshot.activities[d.after_id] for d in snapshot.after.get(activity.id, ()))
    return tuple(a for a in found if a.ended is None and a.started is None and a.finished is None)


def _said(activity: Activity, person: Person | None, by: datetime, rule: str) -> Message:
    """Who owes it by when, with the number to call where there is one."""
    whose, phone = (person.name, person.phone) if person else ("", "")
    if rule == OVERDUE:
        if phone:
            return message(
                "warning.decision_overdue.call",
                what=activity.name, by=by, whose=whose, phone=phone,
            )  # fmt: skip
        return message("warning.decision_overdue.said", what=activity.name, by=by, whose=whose)
    if phone:
        return message(
            "warning.decision_due.call", what=activity.name, by=by, whose=whose, phone=phone
        )
    return message("warning.decision_due.said", what=activity.name, by=by, whose=whose)


def _answered(activity: Activity) -> Mend:
    """Only the answer itself ends it: the way to where that is recorded."""
    return Mend(message("warning.record_answer"), goto_activity_id=activity.id)


def _mends(snapshot: Snapshot, activity: Activity) -> Iterator[Mend]:
    """What can be pressed without the answer: another day for what was promised, or none."""
    detail = snapshot.details[activity.detail_id]
    if _promised(snapshot, activity) is not None:
        yield Mend(
            message("warning.promise_again", detail=detail.name),
            (AgreeDates(detail_id=detail.id, reason=activity.name),),
        )
    if activity.finish_by is not None:
        yield Mend(
            message("warning.not_by_then", work=(activity.name,)),
            (with_facts(snapshot, activity, finish_by=None),),
        )
