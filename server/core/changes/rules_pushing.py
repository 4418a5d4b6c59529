"""Rules of dates moved on purpose, of what they push, and of crews that have heard of it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from functools import reduce

from server.core.changes.base import Actor, ChangedSince, Outcome, change, find, rule
from server.core.changes.causes import causes
from server.core.changes.held import activity_of, minute
from server.core.changes.inputs import BadInput, ids_after, near, reason_of, text_of, there, whole
from server.core.changes.plan_facts import (
    MOST_CLOCK,
    MOST_WORK,
    TAKES_TIME,
    YEARS,
    fits_a_day,
    hours_of,
)
from server.core.changes.pushing import AgreePush, ChangeWork, GiveCause, Hear, PutOff
from server.core.changes.rules_actuals import OtherKind
from server.core.pushed import Pushed, ToHear, pushed
from server.core.refusals import Message, message
from server.core.world import Activity, Detail, Snapshot, Telling
from server.core.world.clock import status_of
from server.core.world.network import forecast


class PushChanged(ChangedSince):
    """What a change would push is not what was shown any more."""


@rule(PutOff)
def put_off(snapshot: Snapshot, actor: Actor, command: PutOff, at: datetime) -> Outcome:
    """It does not start before then; what is on its way arrives then."""
    activity = _not_done(snapshot, command.activity_id)
    until = command.until and minute(command.until)
    if until is not None and until <= at:
        raise BadInput("push.in_the_past", field="until", when=until)
    if until is not None:
        near(until, at, "until", years=YEARS)
    if activity.kind == "delivery" and (activity.ordered or activity.promised):
        if until is None:
            raise BadInput("input.no_day", field="until")
        said = message("log.comes_then", what=activity.name, when=until)
        return Outcome(snapshot.put(replace(activity, promised=until)), said)
    if activity.started is not None or activity.kind == "wait":
        raise OtherKind("push.not_put_off", work=activity.name)
    if until and activity.finish_by and activity.finish_by <= until:
        raise BadInput("plan.finish_before_start", field="until")
    said = message("log.put_off", work=activity.name, until=until)
    if until is None:
        said = message("log.not_put_off", work=activity.name)
    return Outcome(snapshot.put(replace(activity, not_before=until)), said)


@rule(ChangeWork)
def change_work(snapshot: Snapshot, actor: Actor, command: ChangeWork, at: datetime) -> Outcome:
    """It takes so long in all. Of work under way, what remains is said instead."""
    activity = _not_done(snapshot, command.activity_id)
    if activity.kind not in TAKES_TIME or (activity.started and activity.kind != "wait"):
        raise OtherKind("push.length_stays", work=activity.name)
    work = whole(command.work, 1, MOST_CLOCK if activity.kind == "wait" else MOST_WORK, "work")
    hours = hours_of(snapshot, activity.calendar_id, (activity.crew_id, *activity.with_crew_ids))
    if activity.one_day and not fits_a_day(work, hours):
        raise BadInput("plan.longer_than_a_day", field="work", longest=hours.longest_weekday)
    changed = replace(
        activity,
        work=work,
        low=None if activity.low is None else min(activity.low, work),
        high=None if activity.high is None else max(activity.high, work),
        tag="",
    )
    span = "log.takes_clock" if activity.kind == "wait" else "log.takes"
    return Outcome(snapshot.put(changed), message(span, work=activity.name, span=work))


@rule(GiveCause)
def give_cause(snapshot: Snapshot, actor: Actor, command: GiveCause, at: datetime) -> Outcome:
    """Why the dates moved on a day that has come."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    if command.day > at.date():
        raise BadInput("push.day_to_come", field="day")
    text = reason_of(command.cause, "cause")
    rows = causes(snapshot, actor, at, text, (detail.id,), day=command.day, base=command.id)
    said = message("log.cause", detail=detail.name, day=command.day, cause=text)
    return Outcome(snapshot.put(*rows), said)


@rule(AgreePush)
def agree(snapshot: Snapshot, actor: Actor, command: AgreePush, at: datetime) -> Outcome:
    """All of it is done, and what each crew must hear is written down; or nothing is."""
    there(snapshot, Detail, command.detail_id, "detail_id")
    cause = text_of(command.cause, "cause")
    if not command.commands:
        raise BadInput("push.nothing", field="what")
    after, said = snapshot, list[Message]()
    for one in command.commands:
        outcome = change(after, actor, one, at)
        after, said = outcome.after, [*said, outcome.said]
    status = status_of(at)
    push = pushed(snapshot, after, forecast(snapshot, status), forecast(after, status))
    if push.digest != command.shown:
        raise PushChanged("push.changed", field=None)
    later = [d.detail_id for d in push.details if d.days > 0] or [command.detail_id]
    after = after.put(*causes(after, actor, at, cause, later, base=command.id))
    after = _told(after, actor, at, command.id, push)
    what = reduce(lambda first, then: message("log.then", first=first, then=then), said)
    names = dict.fromkeys(after.crews[h.crew_id].name for h in push.hear)
    if names:
        return Outcome(after, message("log.agreed_telling", what=what, crews=tuple(names)))
    return Outcome(after, message("log.agreed", what=what))


@rule(Hear)
def hear(snapshot: Snapshot, actor: Actor, command: Hear, at: datetime) -> Outcome:
    """These have been heard; what was heard before stays as it was."""
    rows = [find(snapshot, Telling, id) for id in dict.fromkeys(command.telling_ids)]
    if not rows:
        raise BadInput("push.nothing", field="telling_ids")
    now = minute(at)
    heard = [
        replace(row, heard=now, heard_by_id=actor.person_id) for row in rows if row.heard is None
    ]
    crew = snapshot.crews[rows[0].crew_id].name
    by_itself = actor.crew_id == rows[0].crew_id
    said = message("log.heard" if by_itself else "log.told", crew=crew)
    return Outcome(snapshot.put(*heard), said)


def _told(snapshot: Snapshot, actor: Actor, at: datetime, base: str, push: Pushed) -> Snapshot:
    """With what each crew must hear, in place of what it has not heard yet of the same thing."""
    ids = ids_after(f"{base}t", snapshot.tellings)
    fits = {visit.booking_id for visit in push.visits if visit.what == "fits again"}
    gone = [t for t in _unheard(snapshot) if t.what == "breaks" and t.booking_id in fits]
    rows = []
    for one in push.hear:
        older = [row for row in _unheard(snapshot) if _in_place_of(row, one)]
        gone += older
        was = _first_was(older, one)
        if one.what == "work" and was and one.now and was.date() == one.now.date():
            continue  # it is back on the day that the crew knows
        rows.append(
            Telling(
                id=next(ids),
                project_id=snapshot.project.id,
                crew_id=one.crew_id,
                what=one.what,
                activity_ids=one.activity_ids,
                booking_id=one.booking_id,
                was=was,
                now=one.now,
                by_id=actor.person_id,
                at=minute(at),
            )
        )
    return snapshot.drop(*gone).put(*rows)


def _unheard(snapshot: Snapshot) -> Iterator[Telling]:
    """What is still to be heard, in the order in which it was agreed."""
    rows = (row for row in snapshot.tellings.values() if row.heard is None)
    return iter(sorted(rows, key=lambda row: row.at))


def _in_place_of(row: Telling, one: ToHear) -> bool:
    """Whether one thing to hear takes the place of what a crew has not heard yet.

    That a visit breaks says nothing of when it is: what was asked is still to be heard.
    """
    if (row.crew_id, row.booking_id) != (one.crew_id, one.booking_id):
        return False
    if one.booking_id is None:
        return row.activity_ids == one.activity_ids
    return one.what != "breaks" or row.what == "breaks"


def _first_was(older: list[Telling], one: ToHear) -> datetime | None:
    """What the crew knows by now; None where it has not heard that it is asked.

    A visit breaks on the day it is for, and one that ends does so whether it was heard of or not.
    """
    known = [row for row in older if row.what != "breaks"]
    if not known or one.what == "breaks":
        return one.was
    return known[0].was or (one.was if one.what == "ends" else None)


def _not_done(snapshot: Snapshot, id: str) -> Activity:
    activity = activity_of(snapshot, id)
    if activity.finished is not None:
        raise OtherKind("actuals.done_already", at=activity.finished)
    return activity
