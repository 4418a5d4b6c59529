"""Warnings of looks that are late: nobody called yet, and not looked at again by the time given."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from server.core.changes.held import super_of
from server.core.changes.holds import CallForLook
from server.core.next import mover_of
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.states import hold_state, is_released, live_attempts, looked_at
from server.core.states.before import binding
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, HoldPoint, Snapshot

CALL = "not called yet"
CALL_TITLE = message("warning.not_called.title")
AGAIN = "look again overdue"
AGAIN_TITLE = message("warning.look_again_overdue.title")


@warns(CALL, title=CALL_TITLE, bad="in the way", family="check")
def not_called_yet(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A look from outside, or one that wants notice, is needed within that, and nobody has called.

    Counted from when what it looks at is over by the forecast.
    """
    person = super_of(snapshot)
    for activity in snapshot.chain:
        hold = snapshot.hold_of.get(activity.id)
        if hold is None or hold.witness or hold.called is not None or is_released(snapshot, hold):
            continue
        if not hold.authority and not hold.notice:
            continue
        ready = _ready_at(snapshot, schedule, hold, activity)
        by = ready - timedelta(minutes=hold.notice)
        if by > schedule.status:
            continue
        attempts = live_attempts(snapshot, hold)
        label = message("warning.called_now", check=activity.name)
        yield about(
            snapshot,
            CALL,
            message(
                "warning.not_called.notice" if hold.notice else "warning.not_called.said",
                check=activity.name,
                ready=ready,
                notice=hold.notice,
            ),
            (activity,),
            subject=(hold.id,),
            facts=(attempts[-1].id if attempts else "", hold.notice),
            at=by,
            layer_ids=hold.layer_ids,
            hold_id=hold.id,
            who=(None, person.id if person else None),
            mends=[Mend(label, (CallForLook(hold_id=hold.id, called=schedule.status),))],
        )


def _ready_at(
    snapshot: Snapshot, schedule: Schedule, hold: HoldPoint, activity: Activity
) -> datetime:
    """When all before a check and all that it looks at is over: now, if it is."""
    found = [schedule.status]
    for dependency in binding(snapshot, activity.id):
        dates = schedule[dependency.before_id]
        end = dates.early_finish if dependency.type[0] == "F" else dates.early_start
        lag = dependency.lag if dependency.lag_on == "clock" else 0
        found.append(end + timedelta(minutes=lag))
    found += [schedule[a.id].early_finish for a in looked_at(snapshot, hold) if a.id in schedule]
    return max(found if activity.not_before is None else [*found, activity.not_before])


@warns(AGAIN, title=AGAIN_TITLE, bad="lost work", family="check")
def look_again_overdue(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """What was to be put right and looked at again by a time was not, and the time has passed."""
    for activity in snapshot.chain:
        hold = snapshot.hold_of.get(activity.id)
        if hold is None or hold_state(snapshot, hold, schedule) != "look again":
            continue
        attempt = live_attempts(snapshot, hold)[-1]
        if attempt.again_by is None or attempt.again_by >= schedule.status:
            continue
        yield about(
            snapshot,
            AGAIN,
            message(
                "warning.look_again_overdue.because"
                if attempt.reason
                else "warning.look_again_overdue.said",
                check=activity.name,
                by=attempt.again_by,
                reason=attempt.reason,
            ),
            (activity,),
            subject=(hold.id,),
            facts=(attempt.id, attempt.again_by),
            at=attempt.again_by,
            layer_ids=hold.layer_ids,
            hold_id=hold.id,
            who=mover_of(snapshot, activity, schedule),
            mends=[Mend(message("warning.open_check"), goto_hold_id=hold.id)],
        )
