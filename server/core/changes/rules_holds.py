"""Rules at a check: call, photos, OK to cover, look again, reject, open again."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.causes import causes
from server.core.changes.held import check_name, check_of, minute, part_names, person_name
from server.core.changes.holds import (
    AddPhoto,
    CallForLook,
    DropPhoto,
    LookAgain,
    OpenAgain,
    Reject,
    Release,
)
from server.core.changes.inputs import BadInput, near, new_id, reason_of, text_of, whole
from server.core.changes.marking import verdict_of
from server.core.changes.rework import rework_rows
from server.core.measure import State
from server.core.refusals import Refusal, message
from server.core.states import is_released, left_out, live_attempts, parts_of
from server.core.world import Attempt, HoldPoint, Photo, Snapshot

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
    hold = check_of(snapshot, command.hold_id)
    if command.called > at:
        raise BadInput("actuals.in_the_future", field="called", when=command.called)
    near(command.called, at, "called", years=1)
    if is_released(snapshot, hold) and not left_out(snapshot, hold):
        raise _released(snapshot, hold)
    said = message("log.called", check=check_name(snapshot, hold))
    return Outcome(snapshot.put(replace(hold, called=minute(command.called))), said)


@rule(AddPhoto)
def add_photo(snapshot: Snapshot, actor: Actor, command: AddPhoto, at: datetime) -> Outcome:
    """A draft photo at a check."""
    hold = check_of(snapshot, command.hold_id)
    photo = Photo(
        id=new_id(snapshot, Photo, command.id),
        project_id=hold.project_id,
        sha256=command.sha256,
        width=command.width,
        height=command.height,
        by_id=actor.person_id,
        at=minute(at),
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
    return Outcome(snapshot.drop(photo), message("log.photo_dropped"))


@rule(Release)
def release(snapshot: Snapshot, actor: Actor, command: Release, at: datetime) -> Outcome:
    """OK to cover, all or all but some parts; what follows may start."""
    hold = check_of(snapshot, command.hold_id)
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
    now = minute(at)
    decided = replace(
        attempt,
        state="released",
        decided_by_id=actor.person_id,
        decided_at=now,
        left_out=tuple(sorted(set(command.left_out))),
        reason=reason,
        inspector=inspector,
    )
    activity = snapshot.activities[hold.activity_id]
    if activity.finished is None:
        activity = replace(activity, started=activity.started or now, finished=now)
    after = snapshot.put(decided, activity)
    said = message("log.released", check=activity.name)
    if left := frozenset(left_out(after, hold)):
        parts = part_names(hold, left)
        said = message("log.released_but", check=activity.name, parts=parts)
    return Outcome(after, said)


@rule(LookAgain)
def look_again(snapshot: Snapshot, actor: Actor, command: LookAgain, at: datetime) -> Outcome:
    """Put right and looked at again by a time; nothing moves."""
    hold = check_of(snapshot, command.hold_id)
    attempt = _marked(snapshot, hold)
    if command.by <= at:
        raise BadInput("holds.by_in_the_past", field="by", when=command.by)
    near(command.by, at, "by", years=1)
    decided = replace(
        attempt,
        state="look again",
        decided_by_id=actor.person_id,
        decided_at=minute(at),
        again_by=minute(command.by),
        reason=text_of(command.reason, "reason"),
    )
    said = message("log.look_again", check=check_name(snapshot, hold), by=command.by)
    return Outcome(snapshot.put(decided), said)


@rule(Reject)
def reject(snapshot: Snapshot, actor: Actor, command: Reject, at: datetime) -> Outcome:
    """This attempt closes with its evidence; a rework task comes before the next."""
    hold = check_of(snapshot, command.hold_id)
    attempt = _marked(snapshot, hold, or_again=True)
    reason = reason_of(command.reason)
    work = whole(command.rework, 1, MOST_REWORK, "rework")
    decided = replace(
        attempt,
        state="rejected",
        decided_by_id=actor.person_id,
        decided_at=minute(at),
        reason=reason,
    )
    rows = rework_rows(snapshot, command.rework_id, hold, decided, work)
    # whoever was called has been; the next look needs its notice again
    detail_id = snapshot.activities[hold.activity_id].detail_id
    why = causes(snapshot, actor, at, reason, (detail_id,), activity_id=hold.activity_id)
    after = snapshot.put(decided, *rows, *why, replace(hold, called=None))
    check = check_name(snapshot, hold)
    return Outcome(after, message("log.rejected", check=check, reason=reason))


@rule(OpenAgain)
def open_again(snapshot: Snapshot, actor: Actor, command: OpenAgain, at: datetime) -> Outcome:
    """A released check opened again; what has started behind it stays a fact."""
    hold = check_of(snapshot, command.hold_id)
    if not is_released(snapshot, hold):
        raise NotToDecide("holds.not_released")
    if live_attempts(snapshot, hold)[-1].state == "marked":
        raise NotToDecide("holds.decide_first")
    reason = reason_of(command.reason)
    opened = [
        replace(
            attempt,
            state="opened again",
            opened_by_id=actor.person_id,
            opened_at=minute(at),
            opened_reason=reason,
        )
        for attempt in live_attempts(snapshot, hold)
        if attempt.state == "released"
    ]
    activity = replace(snapshot.activities[hold.activity_id], started=None, finished=None)
    said = message("log.opened_again", check=activity.name, reason=reason)
    return Outcome(snapshot.put(*opened, activity, replace(hold, called=None)), said)


def _marked(snapshot: Snapshot, hold: HoldPoint, *, or_again: bool = False) -> Attempt:
    """The attempt that waits for a decision; with `or_again` also one that was to be put right."""
    attempts = live_attempts(snapshot, hold)
    last = attempts[-1] if attempts else None
    if last is not None and (last.state == "marked" or (or_again and last.state == "look again")):
        return last
    if last is not None and last.state == "released":
        raise _released(snapshot, hold)
    raise NotToDecide("holds.not_marked")


def _released(snapshot: Snapshot, hold: HoldPoint) -> AlreadyReleased:
    """The refusal that says by whom and when it was released, and whether parts were left out."""
    last = live_attempts(snapshot, hold)[-1]
    return AlreadyReleased(
        "holds.rest_not_marked" if left_out(snapshot, hold) else "holds.already_released",
        by=person_name(snapshot, last.decided_by_id),
        at=last.decided_at,
    )


def _not_their_own(snapshot: Snapshot, actor: Actor, hold: HoldPoint, attempt: Attempt) -> None:
    """Neither the person nor the crew that marked; an outside look is somebody else's anyway."""
    if hold.own_mark_ok or hold.authority:
        return
    marker = snapshot.people.get(attempt.marked_by_id)
    crew_id = marker.crew_id if marker else None
    if actor.person_id == attempt.marked_by_id or (crew_id and crew_id == actor.crew_id):
        raise OwnMark("holds.own_mark")


def _out_of_tolerance(snapshot: Snapshot, attempt: Attempt, left: tuple[int, ...]) -> bool:
    """Whether a number of what is released lies outside its first tolerance."""
    for measured in snapshot.measurements_of.get(attempt.id, ()):
        ask = snapshot.asks[measured.ask_id]
        verdict = verdict_of(ask, measured.value)
        outside = verdict is not None and verdict.state is not State.WITHIN
        if outside and ask.part not in left:
            return True
    return False
