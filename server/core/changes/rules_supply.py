"""Rules of what comes from elsewhere: deliveries ordered, here, counted; decisions answered."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.actuals import Answer, Arrive, CountOver, Order
from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.held import activity_of, minute
from server.core.changes.inputs import BadInput, near, text_of
from server.core.changes.rules_actuals import OtherKind, WrongTime, happened
from server.core.refusals import message
from server.core.world import Activity, Snapshot


@rule(Order)
def order(snapshot: Snapshot, actor: Actor, command: Order, at: datetime) -> Outcome:
    """A delivery is ordered, or promised for another day."""
    activity = _of_kind(snapshot, command.activity_id, "delivery")
    if activity.finished is not None:
        raise OtherKind("actuals.here_already", at=activity.finished)
    when = happened(snapshot, command.when, at)
    if command.promised is not None and command.promised < when:
        raise WrongTime("actuals.promised_before_order", field="promised")
    if command.promised is not None:
        near(command.promised, at, "promised", years=5)
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
    when = happened(snapshot, command.when, at)
    if activity.ordered is not None and when < activity.ordered:
        raise WrongTime("actuals.here_before_order", field="when", ordered=activity.ordered)
    if (sent := activity.shipped) is not None and when < sent:
        raise WrongTime("stages.before", field="when", stage="finished", other="shipped", at=sent)
    here = replace(activity, started=activity.ordered or when, finished=when)
    return Outcome(snapshot.put(here), message("log.arrived", what=activity.name))


@rule(CountOver)
def count_over(snapshot: Snapshot, actor: Actor, command: CountOver, at: datetime) -> Outcome:
    """A delivery has been counted and looked over."""
    activity = _of_kind(snapshot, command.activity_id, "delivery")
    if activity.finished is None:
        raise OtherKind("actuals.not_here")
    if activity.counted is not None:
        raise OtherKind("actuals.counted_already", at=activity.counted)
    note = text_of(command.note, "note")
    counted = replace(activity, counted=minute(at))
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
    now = minute(at)
    decided = replace(activity, answer=said, started=now, finished=now)
    return Outcome(snapshot.put(decided), message("log.answered", what=activity.name, answer=said))


def _of_kind(snapshot: Snapshot, id: str, kind: str) -> Activity:
    activity = activity_of(snapshot, id)
    if activity.kind != kind:
        raise OtherKind("actuals.other_kind", what=activity.name)
    return activity
