"""Rules of what happened: started, done, remaining, ordered, arrived, counted, answered."""

from dataclasses import replace
from datetime import datetime, timedelta

from server.core.changes.actuals import (
    Answer,
    Arrive,
    CountOver,
    Finish,
    Order,
    SetRemaining,
    Start,
    TakeBack,
)
from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.held import check_name, whose
from server.core.changes.inputs import BadInput, reason_of, text_of, whole
from server.core.refusals import Refusal, message
from server.core.states import holding, left_out, open_before
from server.core.world import Activity, HoldPoint, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast

MOST_REMAINING = 2 * 365 * 480


class Held(Refusal):
    """A check before this is not OK to cover; says which, whose it is and how to reach them."""


class NotYet(Refusal):
    """Something before this is still open."""


class OtherKind(Refusal):
    """That is not what one does with a check, a delivery, a decision or a wait."""


class WrongTime(Refusal):
    """A time that cannot be: in the future, or before what it follows."""


@rule(Start)
def start(snapshot: Snapshot, actor: Actor, command: Start, at: datetime) -> Outcome:
    """Work has started; refused while a check or something else before it is open."""
    activity = _open_task(snapshot, command.activity_id)
    if activity.started is not None:
        raise OtherKind("actuals.started_already", at=activity.started)
    when = _happened(snapshot, command.when, at)
    anyway = _anyway(snapshot, actor, activity, command.anyway, at)
    started = replace(activity, started=when, anyway=anyway or activity.anyway)
    said = (
        message("log.started_anyway", work=activity.name, reason=anyway)
        if anyway
        else message("log.started", work=activity.name)
    )
    return Outcome(snapshot.put(started), said)


@rule(Finish)
def finish(snapshot: Snapshot, actor: Actor, command: Finish, at: datetime) -> Outcome:
    """Work is done; never over a part that a check has left out."""
    activity = _open_task(snapshot, command.activity_id, waits=True)
    when = _happened(snapshot, command.when, at)
    started, anyway = activity.started, ""
    if started is None:
        if command.started is None and activity.kind != "wait":
            raise WrongTime("actuals.started_when", field="started")
        anyway = _anyway(snapshot, actor, activity, command.anyway, at)
        schedule = forecast(snapshot, status_of(at))
        began = command.started or min(schedule[activity.id].early_start, when)
        started = _happened(snapshot, began, at, "started")
    if when < started:
        raise WrongTime("actuals.done_before_start", field="when", started=started)
    anyway = anyway or _over_left_out(snapshot, actor, activity, command.anyway)
    done = replace(
        activity,
        started=started,
        finished=when,
        remaining=None,
        anyway=anyway or activity.anyway,
    )
    said = (
        message("log.done_anyway", work=activity.name, reason=anyway)
        if anyway
        else message("log.done", work=activity.name)
    )
    return Outcome(snapshot.put(done), said)


@rule(SetRemaining)
def set_remaining(snapshot: Snapshot, actor: Actor, command: SetRemaining, at: datetime) -> Outcome:
    """So much is still to do."""
    activity = _open_task(snapshot, command.activity_id)
    if activity.started is None:
        raise OtherKind("actuals.not_started", field="remaining")
    left = whole(command.remaining, 0, MOST_REMAINING, "remaining")
    said = message("log.remaining", work=activity.name, left=left)
    return Outcome(snapshot.put(replace(activity, remaining=left)), said)


@rule(TakeBack)
def take_back(snapshot: Snapshot, actor: Actor, command: TakeBack, at: datetime) -> Outcome:
    """The last thing that was recorded by mistake goes: the finish, else the start."""
    activity = find(snapshot, Activity, command.activity_id)
    reason = reason_of(command.reason)
    if activity.kind == "hold":
        raise OtherKind("actuals.check_is_opened_again")
    if activity.finished is not None:
        back = replace(activity, finished=None, answer="")
        if activity.kind != "task":
            back = replace(back, started=None)
    elif activity.ordered is not None:
        back = replace(activity, ordered=None, promised=None)
    elif activity.started is not None:
        back = replace(activity, started=None, remaining=None, anyway="")
    else:
        raise OtherKind("actuals.nothing_to_take_back")
    said = message("log.taken_back", work=activity.name, reason=reason)
    return Outcome(snapshot.put(back), said)


@rule(Order)
def order(snapshot: Snapshot, actor: Actor, command: Order, at: datetime) -> Outcome:
    """A delivery is ordered, or promised for another day."""
    activity = _of_kind(snapshot, command.activity_id, "delivery")
    if activity.finished is not None:
        raise OtherKind("actuals.here_already", at=activity.finished)
    when = _happened(snapshot, command.when, at)
    if command.promised is not None and command.promised < when:
        raise WrongTime("actuals.promised_before_order", field="promised")
    ordered = replace(activity, ordered=when, promised=command.promised)
    said = (
        message("log.ordered_for", what=activity.name, promised=command.promised)
        if command.promised
        else message("log.ordered", what=activity.name)
    )
    return Outcome(snapshot.put(ordered), said)


@rule(Arrive)
def arrive(snapshot: Snapshot, actor: Actor, command: Arrive, at: datetime) -> Outcome:
    """A delivery is on site."""
    activity = _of_kind(snapshot, command.activity_id, "delivery")
    if activity.finished is not None:
        raise OtherKind("actuals.here_already", at=activity.finished)
    when = _happened(snapshot, command.when, at)
    began = min(activity.ordered or when, when)
    here = replace(activity, started=began, finished=when)
    return Outcome(snapshot.put(here), message("log.arrived", what=activity.name))


@rule(CountOver)
def count_over(snapshot: Snapshot, actor: Actor, command: CountOver, at: datetime) -> Outcome:
    """A delivery has been counted and looked over."""
    activity = _of_kind(snapshot, command.activity_id, "delivery")
    if activity.finished is None:
        raise OtherKind("actuals.not_here")
    note = text_of(command.note, "note")
    counted = replace(activity, counted=at.replace(second=0, microsecond=0))
    if note:
        counted = replace(counted, note=f"{activity.note}\n{note}".strip())
    return Outcome(snapshot.put(counted), message("log.counted", what=activity.name))


@rule(Answer)
def answer(snapshot: Snapshot, actor: Actor, command: Answer, at: datetime) -> Outcome:
    """A decision is made."""
    activity = _of_kind(snapshot, command.activity_id, "decision")
    said = text_of(command.answer, "answer")
    if not said:
        raise BadInput("actuals.no_answer", field="answer")
    if activity.finished is not None:
        raise OtherKind("actuals.answered_already", answer=activity.answer)
    now = at.replace(second=0, microsecond=0)
    decided = replace(activity, answer=said, started=activity.started or now, finished=now)
    return Outcome(snapshot.put(decided), message("log.answered", what=activity.name, answer=said))


def _open_task(snapshot: Snapshot, id: str, *, waits: bool = False) -> Activity:
    """A task (or a wait) that is not done."""
    activity = find(snapshot, Activity, id)
    if activity.kind not in ("task", "wait") or (activity.kind == "wait" and not waits):
        raise OtherKind("actuals.other_kind", what=activity.name)
    if activity.ended is not None:
        raise OtherKind("actuals.ended", what=activity.name)
    if activity.finished is not None:
        raise OtherKind("actuals.done_already", at=activity.finished)
    return activity


def _of_kind(snapshot: Snapshot, id: str, kind: str) -> Activity:
    activity = find(snapshot, Activity, id)
    if activity.kind != kind or activity.ended is not None:
        raise OtherKind("actuals.other_kind", what=activity.name)
    return activity


def _happened(snapshot: Snapshot, when: datetime, at: datetime, field: str = "when") -> datetime:
    """A time that lies in the past of now, to the minute."""
    if when > at:
        raise WrongTime("actuals.in_the_future", field=field, when=when)
    if when < snapshot.project.start - timedelta(days=365):
        raise WrongTime("actuals.long_before", field=field, when=when)
    return when.replace(second=0, microsecond=0)


def _anyway(snapshot: Snapshot, actor: Actor, activity: Activity, reason: str, at: datetime) -> str:
    """Nothing if all before it is done; else the super's reason, or a refusal."""
    holds = holding(snapshot, activity.id)
    schedule = forecast(snapshot, status_of(at))
    still_open = [a for a in open_before(snapshot, activity.id, schedule) if a.kind != "hold"]
    if not holds and not still_open:
        return ""
    if actor.role == "super" and reason.strip():
        return text_of(reason, "anyway")
    if holds:
        raise _held(snapshot, actor, holds[-1])
    raise NotYet("actuals.not_yet", field="anyway", open=tuple(a.name for a in still_open))


def _over_left_out(snapshot: Snapshot, actor: Actor, activity: Activity, reason: str) -> str:
    """The reason for finishing over parts that a check has left out; refused without one."""
    for effect in snapshot.effects_of.get(activity.id, ()):
        if effect.verb != "covers":
            continue
        for hold in snapshot.holds.values():
            missing = set(left_out(snapshot, hold))
            if effect.parts:
                missing &= set(effect.parts)
            if effect.layer_id not in hold.layer_ids or not missing:
                continue
            if actor.role == "super" and reason.strip():
                return text_of(reason, "anyway")
            name, phone = whose(snapshot, hold)
            raise Held(
                "actuals.left_out",
                field="anyway",
                check=check_name(snapshot, hold),
                parts=tuple(f"{hold.part_name} {no}" for no in sorted(missing)),
                whose=name,
                phone=phone,
            )
    return ""


def _held(snapshot: Snapshot, actor: Actor, hold: HoldPoint) -> Held:
    name, phone = whose(snapshot, hold)
    check = check_name(snapshot, hold)
    if name == actor.name:
        return Held("actuals.held_by_you", field="anyway", check=check)
    if phone:
        return Held("actuals.held_call", field="anyway", check=check, whose=name, phone=phone)
    return Held("actuals.held", field="anyway", check=check, whose=name)
