"""The small forms of an activity read into commands. Fields carry the name of their form."""

import re
from collections.abc import Callable, Mapping
from datetime import datetime

from server.core.changes import Command
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
from server.core.changes.stages import CircuitDead, StageDelivery
from server.core.world import Activity
from server.pages.kit import Form
from server.pages.kit.forms import BadField

Read = Callable[[Form, Activity, datetime], Command]
MOST = 1000


def start(form: Form, activity: Activity, now: datetime) -> Start:
    """Work has started: now, if no time is given."""
    return Start(
        activity_id=activity.id,
        when=form.moment("start_when") or now,
        anyway=form.text("start_anyway", most=MOST),
    )


def finish(form: Form, activity: Activity, now: datetime) -> Finish:
    """Work is done; when it began, if that was never recorded."""
    return Finish(
        activity_id=activity.id,
        when=form.moment("finish_when") or now,
        started=form.moment("finish_started"),
        anyway=form.text("finish_anyway", most=MOST),
    )


def remaining(form: Form, activity: Activity, now: datetime) -> SetRemaining:
    """So much is still to do, or so many percent are done; and why it takes longer, if it does."""
    left = form.minutes("remaining_remaining")
    done = _percent(form, "remaining_done")
    if not form.refusals and not form.typed("remaining_done").strip() and left is None:
        form.refuse(BadField("form.needed", field="remaining_remaining"))
    return SetRemaining(
        activity_id=activity.id,
        remaining=left,
        done=done,
        cause=form.text("remaining_cause", most=MOST),
    )


def _percent(form: Form, name: str) -> int | None:
    """A percentage with its sign or without: "60 %", "60"; None where nothing is typed."""
    typed = form.typed(name).strip()
    if not typed:
        return None
    plain = typed.removesuffix("%").strip()
    if not re.fullmatch(r"[0-9]{1,3}", plain):
        form.refuse(BadField("detail.not_percent", field=name, typed=typed[:40]))
        return None
    return int(plain)


def order(form: Form, activity: Activity, now: datetime) -> Order:
    """Ordered, and for when it was promised."""
    return Order(
        activity_id=activity.id,
        when=form.moment("order_when") or now,
        promised=form.moment("order_promised"),
    )


def arrive(form: Form, activity: Activity, now: datetime) -> Arrive:
    """It is here."""
    return Arrive(activity_id=activity.id, when=form.moment("arrive_when") or now)


def count(form: Form, activity: Activity, now: datetime) -> CountOver:
    """Counted and looked over."""
    return CountOver(activity_id=activity.id, note=form.text("count_note", most=MOST))


def stage(form: Form, activity: Activity, now: datetime) -> StageDelivery:
    """It has come so far."""
    return StageDelivery(
        activity_id=activity.id,
        stage=form.text("stage_stage", most=20),
        when=form.moment("stage_when") or now,
    )


def dead(form: Form, activity: Activity, now: datetime) -> CircuitDead:
    """The circuit is dead."""
    return CircuitDead(activity_id=activity.id, when=form.moment("dead_when") or now)


def answer(form: Form, activity: Activity, now: datetime) -> Answer:
    """What was decided."""
    return Answer(activity_id=activity.id, answer=form.text("answer_answer", most=MOST))


def back(form: Form, activity: Activity, now: datetime) -> TakeBack:
    """The last thing recorded was a mistake."""
    return TakeBack(activity_id=activity.id, reason=form.text("back_reason", most=MOST))


READ: Mapping[str, Read] = {
    "start": start,
    "finish": finish,
    "remaining": remaining,
    "order": order,
    "arrive": arrive,
    "count": count,
    "stage": stage,
    "dead": dead,
    "answer": answer,
    "back": back,
}


def lead_back(form: Form, name: str, *, asks_anyway: bool) -> None:
    """Names each refusal's field as it is called on the page.

    Who is not asked why it happened anyway has no such field, so the refusal is of the whole.
    """
    for refusal in form.all_refusals:
        if refusal.field == "anyway" and not asks_anyway:
            refusal.field = None
        elif refusal.field is not None and not refusal.field.startswith(f"{name}_"):
            refusal.field = f"{name}_{refusal.field}"
