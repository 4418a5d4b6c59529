"""Rules of what happened: work started, done, what remains, what was recorded by mistake."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from server.core.changes.actuals import Finish, SetRemaining, Start, TakeBack
from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.causes import causes
from server.core.changes.held import activity_of, check_name, held_by, hidden_by, minute
from server.core.changes.inputs import BadInput, reason_of, text_of, whole
from server.core.refusals import Refusal, message
from server.core.states import (
    checks_hidden_by,
    hidden_parts,
    holding,
    left_out,
    live_attempts,
    open_before,
    too_soon,
)
from server.core.world import Activity, HoldPoint, Snapshot
from server.core.world.network import forecast_of

MOST_REMAINING = 2 * 365 * 480
ON_THE_WAY = ("measured", "drawn", "approved", "ordered", "shipped")
"""What happens to a delivery before it is here, in its usual order."""


class NotYet(Refusal):
    """Something before this is still open."""


class OtherKind(Refusal):
    """That is not what one does with a check, a delivery, a decision or a wait."""


class WrongTime(Refusal):
    """A time that cannot be: in the future, or before what it follows."""


@rule(Start)
def start(snapshot: Snapshot, actor: Actor, command: Start, at: datetime) -> Outcome:
    """Work has started; refused while a check or something else before it is open.

    The super may record that it started anyway, with a reason.
    """
    activity = _open_task(snapshot, command.activity_id)
    if activity.started is not None:
        raise OtherKind("actuals.started_already", at=activity.started)
    when = happened(snapshot, command.when, at)
    anyway = _reason(actor, command.anyway)
    stopped = _stopped(snapshot, actor, activity, when, at)
    if stopped and not anyway:
        raise stopped
    if not stopped:
        said = message("log.started", work=activity.name)
        return Outcome(snapshot.put(replace(activity, started=when)), said)
    said = message("log.started_anyway", work=activity.name, reason=anyway)
    return Outcome(snapshot.put(replace(activity, started=when, anyway=anyway)), said)


@rule(Finish)
def finish(snapshot: Snapshot, actor: Actor, command: Finish, at: datetime) -> Outcome:
    """Work is done, or a wait is over before its time; nothing unseen is hidden by it.

    One that was never started is taken as started at `started`; a wait started by itself.
    """
    activity = _open_task(snapshot, command.activity_id, waits=True)
    when = happened(snapshot, command.when, at)
    anyway = _reason(actor, command.anyway)
    stopped: Refusal | None = None
    started = activity.started
    if started is None:
        started = _began(snapshot, activity, command, when, at)
        stopped = _stopped(snapshot, actor, activity, started, at)
    if when < started:
        raise WrongTime("actuals.done_before_start", field="when", started=started)
    stopped = stopped or _unfinishable(snapshot, activity, at)
    if stopped and not anyway:
        raise stopped
    done = replace(activity, started=started, finished=when, remaining=None, remaining_at=None)
    if not stopped:
        return Outcome(snapshot.put(done), message("log.done", work=activity.name))
    said = message("log.done_anyway", work=activity.name, reason=anyway)
    return Outcome(snapshot.put(replace(done, anyway=anyway)), said)


@rule(SetRemaining)
def set_remaining(snapshot: Snapshot, actor: Actor, command: SetRemaining, at: datetime) -> Outcome:
    """So much is still to do, or so much of it is done; it runs down in working time from now."""
    activity = _open_task(snapshot, command.activity_id)
    if activity.started is None:
        raise OtherKind("actuals.not_started", field="remaining")
    left = _left(activity, command)
    changed = replace(activity, remaining=left, remaining_at=minute(at))
    cause = text_of(command.cause, "cause")
    why = causes(snapshot, actor, at, cause, (activity.detail_id,), activity_id=activity.id)
    said = message("log.remaining", work=activity.name, left=left)
    return Outcome(snapshot.put(changed, *why), said)


def _left(activity: Activity, command: SetRemaining) -> int:
    """The working minutes that remain. A percentage is of the whole length; all but done is 1."""
    if command.done is None:
        if command.remaining is None:
            raise BadInput("input.no_number", field="remaining")
        return whole(command.remaining, 1, MOST_REMAINING, "remaining")
    if command.remaining is not None:
        raise BadInput("actuals.one_of_two", field="done")
    done = whole(command.done, 0, 99, "done")
    return max(1, -(-activity.work * (100 - done) // 100))


@rule(TakeBack)
def take_back(snapshot: Snapshot, actor: Actor, command: TakeBack, at: datetime) -> Outcome:
    """The last thing that was recorded by mistake goes: the finish, else the start or the stage.

    A wait, a delivery and a decision go back to where they stood before. With the start goes that
    the circuit was dead: whoever starts again looks again.
    """
    activity = activity_of(snapshot, command.activity_id)
    reason = reason_of(command.reason)
    if activity.kind == "hold":
        raise OtherKind("actuals.check_is_opened_again")
    _not_looked_at(snapshot, activity)
    if activity.finished is not None:
        started = activity.started if activity.kind == "task" else None
        back = replace(activity, finished=None, started=started, counted=None, answer="")
    elif (stage := last_stage(activity)) is not None:
        gone: dict[str, Any] = {stage: None} | ({"promised": None} if stage == "ordered" else {})
        back = replace(activity, **gone)
    elif activity.started is not None or activity.circuit_dead is not None:
        back = replace(
            activity, started=None, remaining=None, remaining_at=None, anyway="", circuit_dead=None
        )
    else:
        raise OtherKind("actuals.nothing_to_take_back")
    said = message("log.taken_back", work=activity.name, reason=reason)
    return Outcome(snapshot.put(back), said)


def last_stage(activity: Activity) -> str | None:
    """What was recorded of a delivery on its way, the latest of it; None where nothing was."""
    reached = [stage for stage in ON_THE_WAY if getattr(activity, stage) is not None]
    return max(reversed(reached), key=lambda stage: getattr(activity, stage), default=None)


def happened(snapshot: Snapshot, when: datetime, at: datetime, field: str = "when") -> datetime:
    """A time that lies in the past of now, to the minute."""
    if when > at:
        raise WrongTime("actuals.in_the_future", field=field, when=when)
    if when < snapshot.project.start - timedelta(days=365):
        raise WrongTime("actuals.long_before", field=field, when=when)
    return minute(when)


def _open_task(snapshot: Snapshot, id: str, *, waits: bool = False) -> Activity:
    """A task (or a wait) that is not done."""
    activity = activity_of(snapshot, id)
    if activity.kind not in ("task", "wait") or (activity.kind == "wait" and not waits):
        raise OtherKind("actuals.other_kind", what=activity.name)
    if activity.finished is not None:
        raise OtherKind("actuals.done_already", at=activity.finished)
    return activity


def _reason(actor: Actor, reason: str) -> str:
    """Why it happened anyway: only the super can say so."""
    return text_of(reason, "anyway") if actor.role == "super" else ""


def _began(
    snapshot: Snapshot, activity: Activity, command: Finish, when: datetime, at: datetime
) -> datetime:
    """When something that nobody has recorded as started did start."""
    if command.started is not None:
        return happened(snapshot, command.started, at, "started")
    if activity.kind != "wait":
        raise WrongTime("actuals.started_when", field="started")
    return min(forecast_of(snapshot, minute(at), activity.id)[activity.id].early_start, when)


def _stopped(
    snapshot: Snapshot, actor: Actor, activity: Activity, when: datetime, at: datetime
) -> Refusal | None:
    """Why this could not start at `when`; None if nothing was in its way."""
    if held := (*holding(snapshot, activity.id), *_only_left_out(snapshot, activity)):
        return held_by(snapshot, actor, held[-1])
    schedule = forecast_of(snapshot, minute(at), activity.id)
    if still_open := open_before(snapshot, activity.id, schedule):
        names = tuple(a.name for a in still_open)
        return NotYet("actuals.not_yet", field="anyway", open=names)
    if early := too_soon(snapshot, schedule, activity.id, when):
        before, since = early
        return NotYet("actuals.too_soon", field="anyway", before=before.name, since=since)
    planned = activity.not_before is not None and activity.not_before > schedule.status
    if activity.kind == "task" and not planned and not schedule[activity.id].ready:
        return NotYet("actuals.time_between", field="anyway")
    return None


def _only_left_out(snapshot: Snapshot, activity: Activity) -> tuple[HoldPoint, ...]:
    """The checks that have left out every part of theirs that this task would cover."""
    return tuple(
        hold
        for hold in checks_hidden_by(snapshot, activity)
        if left_out(snapshot, hold) and hidden_parts(snapshot, activity, hold)
        if _named(snapshot, activity, hold) <= set(left_out(snapshot, hold))
    )


def _named(snapshot: Snapshot, activity: Activity, hold: HoldPoint) -> set[int]:
    """The parts of a check's layers that a task covers; all of the check's where it names none."""
    covers = [
        e
        for e in snapshot.effects_of.get(activity.id, ())
        if e.verb == "covers" and e.layer_id in hold.layer_ids
    ]
    if any(not e.parts for e in covers):
        return set(range(1, hold.parts + 1))
    return {part for e in covers for part in e.parts}


def _unfinishable(snapshot: Snapshot, activity: Activity, at: datetime) -> Refusal | None:
    """Why this cannot be done yet: something it waits for, or a check that it hides.

    What the super has let start anyway, with a reason, may also be done.
    """
    if activity.anyway:
        return None
    schedule = forecast_of(snapshot, minute(at), activity.id)
    if still_open := open_before(snapshot, activity.id, schedule, finish=True):
        names = tuple(a.name for a in still_open)
        return NotYet("actuals.not_yet", field="anyway", open=names)
    for hold in checks_hidden_by(snapshot, activity):
        parts = hidden_parts(snapshot, activity, hold)
        if parts is None or parts:
            return hidden_by(snapshot, hold, parts)
    return None


def _not_looked_at(snapshot: Snapshot, activity: Activity) -> None:
    """What a check has looked at cannot be taken back under it."""
    for dependency in snapshot.after.get(activity.id, ()):
        hold = snapshot.hold_of.get(dependency.after_id)
        if hold is None:
            continue
        if any(a.state in ("marked", "released") for a in live_attempts(snapshot, hold)):
            raise OtherKind("actuals.looked_at_since", check=check_name(snapshot, hold))
