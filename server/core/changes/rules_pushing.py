"""Rules of dates moved on purpose, of what they push, and of crews that have heard of it."""

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
from server.core.promises import promised
from server.core.pushed import Pushed, ToHear, pushed
from server.core.refusals import Message, message
from server.core.schedule import Schedule
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
    now = forecast(after, status)
    push = pushed(snapshot, after, forecast(snapshot, status), now)
    if push.digest != command.shown:
        raise PushChanged("push.changed", field=None)
    later = [d.detail_id for d in push.details if d.days > 0] or [command.detail_id]
    after = after.put(*causes(after, actor, at, cause, later, base=command.id))
    after = _told(after, actor, at, command.id, push, now)
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


def _told(
    snapshot: Snapshot, actor: Actor, at: datetime, base: str, push: Pushed, now: Schedule
) -> Snapshot:
    """With what each crew must hear, in place of what it has not heard yet of the same thing."""
    ids = ids_after(f"{base}t", snapshot.tellings)
    fits = {visit.booking_id for visit in push.visits if visit.what == "fits again"}
    unheard = sorted((t for t in snapshot.tellings.values() if not t.heard), key=lambda t: t.at)
    gone = [t for t in unheard if t.what == "breaks" and t.booking_id in fits]
    rows = []
    for one in push.hear:
        older = [row for row in unheard if _in_place_of(snapshot, row, one)]
        gone += older
        if (says := _still_to_hear(snapshot, now, older, one)) is None:
            continue
        rows.append(
            Telling(
                id=next(ids),
                project_id=snapshot.project.id,
                crew_id=says.crew_id,
                what=says.what,
                activity_ids=says.activity_ids,
                booking_id=says.booking_id,
                was=says.was,
                now=says.now,
                by_id=actor.person_id,
                at=minute(at),
            )
        )
    return snapshot.drop(*gone).put(*rows)


def _in_place_of(snapshot: Snapshot, row: Telling, one: ToHear) -> bool:
    """Whether one thing to hear takes the place of what a crew has not heard yet.

    That a visit breaks says nothing of when it is: what was asked is still to be heard.
    """
    if (row.crew_id, row.booking_id) != (one.crew_id, one.booking_id):
        return False
    if one.booking_id is None:
        first, second = row.activity_ids[0], one.activity_ids[0]
        return snapshot.activities[first].detail_id == snapshot.activities[second].detail_id
    return one.what != "breaks" or row.what == "breaks"


def _still_to_hear(
    snapshot: Snapshot, now: Schedule, older: list[Telling], one: ToHear
) -> ToHear | None:
    """One thing to hear as the crew will hear it, who knows of nothing `older`.

    A visit breaks on the day it is for, and one that ends does so whether it was heard of or not.
    """
    if one.what == "work":
        return _work_to_hear(snapshot, now, older, one)
    known = [row for row in older if row.what != "breaks"]
    if not known or one.what == "breaks":
        return one
    return replace(one, was=known[0].was or (one.was if one.what == "ends" else None))


def _work_to_hear(
    snapshot: Snapshot, now: Schedule, older: list[Telling], one: ToHear
) -> ToHear | None:
    """With the work of which the crew has not heard yet, but for what is back on the day it knows.

    None if all is. What it knows is the day from which the work moved first, else the promised one.
    """
    if not older:
        return one
    unheard = {id for row in older for id in row.activity_ids}
    knows = {one.activity_ids[0]: one.was} | {r.activity_ids[0]: r.was for r in older[::-1]}
    dates = promised(snapshot, snapshot.activities[one.activity_ids[0]].detail_id)
    moved: list[tuple[datetime, datetime, str]] = []
    for id in unheard | set(one.activity_ids):
        was = knows.get(id) or (dates[id].start if id in dates else None)
        if was is None or id not in now or snapshot.activities[id].started is not None:
            continue
        begins = now[id].early_start
        if id not in unheard or was.date() != begins.date():
            moved.append((begins, was, id))
    if not moved:
        return None
    begins, was, _ = min(moved)
    ids = tuple(id for _, _, id in sorted(moved))
    return replace(one, activity_ids=ids, was=was, now=begins)


def _not_done(snapshot: Snapshot, id: str) -> Activity:
    activity = activity_of(snapshot, id)
    if activity.finished is not None:
        raise OtherKind("actuals.done_already", at=activity.finished)
    return activity
