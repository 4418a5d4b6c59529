"""Rules at a check: call, photos, OK to cover, look again, reject, open again."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.held import check_name, person_name
from server.core.changes.holds import (
    AddPhoto,
    CallForLook,
    DropPhoto,
    LookAgain,
    OpenAgain,
    Reject,
    Release,
)
from server.core.changes.inputs import BadInput, new_id, reason_of, text_of, whole
from server.core.changes.marking import verdict_of
from server.core.measure import State
from server.core.refusals import Refusal, message
from server.core.states import hold_state, is_released, left_out, live_attempts, parts_of
from server.core.world import (
    Activity,
    Attempt,
    Dependency,
    Effect,
    HoldPoint,
    Person,
    Photo,
    Snapshot,
)

MOST_REWORK = 60 * 480


class AlreadyReleased(Refusal):
    """Somebody else has said OK to cover."""


class OwnMark(Refusal):
    """Nobody says OK to cover to their own mark."""


class NotToDecide(Refusal):
    """There is nothing marked to decide on, or nothing released to open again."""


@rule(CallForLook)
def call(snapshot: Snapshot, actor: Actor, command: CallForLook, at: datetime) -> Outcome:
    """Keeps when somebody was called to look."""
    hold = find(snapshot, HoldPoint, command.hold_id)
    if command.called > at:
        raise BadInput("actuals.in_the_future", field="called", when=command.called)
    said = message("log.called", check=check_name(snapshot, hold))
    return Outcome(snapshot.put(replace(hold, called=command.called)), said)


@rule(AddPhoto)
def add_photo(snapshot: Snapshot, actor: Actor, command: AddPhoto, at: datetime) -> Outcome:
    """A draft photo at a check."""
    hold = find(snapshot, HoldPoint, command.hold_id)
    photo = Photo(
        id=new_id(snapshot, Photo, command.id),
        project_id=hold.project_id,
        sha256=command.sha256,
        width=command.width,
        height=command.height,
        by_id=actor.person_id,
        at=at.replace(second=0, microsecond=0),
        taken=command.taken,
        hold_id=hold.id,
    )
    return Outcome(snapshot.put(photo), message("log.photo", check=check_name(snapshot, hold)))


@rule(DropPhoto)
def drop_photo(snapshot: Snapshot, actor: Actor, command: DropPhoto, at: datetime) -> Outcome:
    """A draft goes; a photo that a mark has named is evidence and stays."""
    photo = find(snapshot, Photo, command.photo_id)
    if photo.attempt_id is not None:
        raise BadInput("holds.photo_is_evidence", field="photos")
    if photo.by_id != actor.person_id:
        raise BadInput("holds.other_photo", field="photos")
    return Outcome(snapshot.drop(photo), message("log.photo_dropped"))


@rule(Release)
def release(snapshot: Snapshot, actor: Actor, command: Release, at: datetime) -> Outcome:
    """OK to cover, all or all but some parts; what follows may start."""
    hold = find(snapshot, HoldPoint, command.hold_id)
    attempt = _marked(snapshot, hold)
    _not_their_own(snapshot, actor, hold, attempt)
    about = frozenset(attempt.parts) or parts_of(hold)
    if set(command.left_out) - about:
        raise BadInput("holds.no_such_part", field="left_out")
    if about and about == frozenset(command.left_out):
        raise BadInput("holds.nothing_left", field="left_out")
    inspector = text_of(command.inspector, "inspector", 120)
    if hold.authority and not inspector:
        raise BadInput("holds.who_looked", field="inspector")
    reason = text_of(command.reason, "reason")
    if not reason and _out_of_tolerance(snapshot, attempt, command.left_out):
        raise BadInput("holds.out_needs_reason", field="reason")
    now = at.replace(second=0, microsecond=0)
    decided = replace(
        attempt,
        state="released",
        decided_by_id=actor.person_id,
        decided_at=now,
        left_out=tuple(sorted(command.left_out)),
        reason=reason,
        inspector=inspector,
    )
    activity = snapshot.activities[hold.activity_id]
    if activity.finished is None:
        activity = replace(activity, started=activity.started or now, finished=now)
    said = (
        message(
            "log.released_but",
            check=activity.name,
            parts=tuple(f"{hold.part_name} {no}" for no in decided.left_out),
        )
        if decided.left_out
        else message("log.released", check=activity.name)
    )
    return Outcome(snapshot.put(decided, activity), said)


@rule(LookAgain)
def look_again(snapshot: Snapshot, actor: Actor, command: LookAgain, at: datetime) -> Outcome:
    """Put right and looked at again by a time; nothing moves."""
    hold = find(snapshot, HoldPoint, command.hold_id)
    attempt = _marked(snapshot, hold)
    if command.by <= at:
        raise BadInput("holds.by_in_the_past", field="by", when=command.by)
    decided = replace(
        attempt,
        state="look again",
        decided_by_id=actor.person_id,
        decided_at=at.replace(second=0, microsecond=0),
        again_by=command.by,
        reason=text_of(command.reason, "reason"),
    )
    said = message("log.look_again", check=check_name(snapshot, hold), by=command.by)
    return Outcome(snapshot.put(decided), said)


@rule(Reject)
def reject(snapshot: Snapshot, actor: Actor, command: Reject, at: datetime) -> Outcome:
    """This attempt closes with its evidence; a rework task comes before the next."""
    hold = find(snapshot, HoldPoint, command.hold_id)
    attempt = _marked(snapshot, hold)
    reason = reason_of(command.reason)
    work = whole(command.rework, 15, MOST_REWORK, "rework")
    decided = replace(
        attempt,
        state="rejected",
        decided_by_id=actor.person_id,
        decided_at=at.replace(second=0, microsecond=0),
        reason=reason,
    )
    activity = snapshot.activities[hold.activity_id]
    looked_at = _looked_at(snapshot, hold)
    rework = Activity(
        id=new_id(snapshot, Activity, command.rework_id),
        project_id=hold.project_id,
        detail_id=activity.detail_id,
        order=activity.order - 1,
        kind="task",
        name=looked_at.name if looked_at else activity.name,
        work=work,
        note=reason,
        crew_id=looked_at.crew_id if looked_at else hold.marks_crew_id,
        place_id=looked_at.place_id if looked_at else activity.place_id,
        rework_of_id=attempt.id,
    )
    arrow = Dependency(
        id=f"{command.rework_id}d",
        project_id=hold.project_id,
        before_id=rework.id,
        after_id=activity.id,
    )
    effects = [
        Effect(
            id=f"{command.rework_id}e{number}",
            project_id=hold.project_id,
            activity_id=rework.id,
            layer_id=layer_id,
            verb="puts in",
            parts=attempt.parts if snapshot.layers[layer_id].parts == hold.parts else (),
        )
        for number, layer_id in enumerate(hold.layer_ids, 1)
        if layer_id in snapshot.layers
    ]
    return Outcome(
        snapshot.put(decided, rework, arrow, *effects),
        message("log.rejected", check=activity.name, reason=reason),
    )


@rule(OpenAgain)
def open_again(snapshot: Snapshot, actor: Actor, command: OpenAgain, at: datetime) -> Outcome:
    """A released check opened again; what has started behind it stays a fact."""
    hold = find(snapshot, HoldPoint, command.hold_id)
    if not is_released(snapshot, hold):
        raise NotToDecide("holds.not_released")
    reason = reason_of(command.reason)
    opened = [
        replace(
            attempt,
            state="opened again",
            opened_by_id=actor.person_id,
            opened_at=at.replace(second=0, microsecond=0),
            opened_reason=reason,
        )
        for attempt in live_attempts(snapshot, hold)
        if attempt.state == "released"
    ]
    activity = replace(snapshot.activities[hold.activity_id], started=None, finished=None)
    said = message("log.opened_again", check=activity.name, reason=reason)
    return Outcome(snapshot.put(*opened, activity), said)


def _marked(snapshot: Snapshot, hold: HoldPoint) -> Attempt:
    """The attempt that waits for a decision."""
    attempts = live_attempts(snapshot, hold)
    last = attempts[-1] if attempts else None
    if last is not None and last.state == "marked":
        return last
    if last is not None and hold_state(snapshot, hold) == "released":
        name = person_name(snapshot, last.decided_by_id)
        if left_out(snapshot, hold):
            raise NotToDecide("holds.rest_not_marked", by=name, at=last.decided_at)
        raise AlreadyReleased("holds.already_released", by=name, at=last.decided_at)
    raise NotToDecide("holds.not_marked")


def _not_their_own(snapshot: Snapshot, actor: Actor, hold: HoldPoint, attempt: Attempt) -> None:
    if hold.own_mark_ok:
        return
    marker: Person | None = snapshot.people.get(attempt.marked_by_id)
    same_crew = marker is not None and marker.crew_id is not None
    if attempt.marked_by_id == actor.person_id or (
        same_crew and marker is not None and marker.crew_id == actor.crew_id
    ):
        raise OwnMark("holds.own_mark")


def _out_of_tolerance(snapshot: Snapshot, attempt: Attempt, left: tuple[int, ...]) -> bool:
    for measured in snapshot.measurements_of.get(attempt.id, ()):
        ask = snapshot.asks.get(measured.ask_id)
        if ask is None or (ask.part is not None and ask.part in left):
            continue
        verdict = verdict_of(ask, measured.value)
        if verdict is not None and verdict.state is not State.WITHIN:
            return True
    return False


def _looked_at(snapshot: Snapshot, hold: HoldPoint) -> Activity | None:
    """The work that a check looks at: the last that put its layers in, else what it follows."""
    puts_in = [
        snapshot.activities[e.activity_id]
        for layer_id in hold.layer_ids
        for e in snapshot.effects_on.get(layer_id, ())
        if e.verb == "puts in"
    ]
    before = [snapshot.activities[d.before_id] for d in snapshot.before.get(hold.activity_id, ())]
    tasks = [a for a in (puts_in or before) if a.kind == "task"]
    return max(tasks, key=lambda a: a.order, default=None)
