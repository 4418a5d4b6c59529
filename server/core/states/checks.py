"""The state of a check, and which of its parts are OK to cover."""

from typing import Literal

from server.core.schedule import Schedule
from server.core.states.before import behind, open_before
from server.core.world import Activity, Attempt, HoldPoint, Snapshot

HoldState = Literal["not yet", "to check", "marked", "released", "look again", "rejected"]


def hold_state(snapshot: Snapshot, hold: HoldPoint, schedule: Schedule | None = None) -> HoldState:
    """Where a check stands. "released" may have left parts out: see `left_out`.

    The schedule is asked whether the waits before it have run out; without one, a wait before it
    counts only once its end is recorded.
    """
    attempts = live_attempts(snapshot, hold)
    last = attempts[-1] if attempts else None
    if last is not None and last.state == "marked":
        return "marked"
    if last is not None and last.state == "look again":
        return "look again"
    if last is not None and last.state == "rejected":
        return "rejected" if open_before(snapshot, hold.activity_id, schedule) else "to check"
    if last is not None:
        return "released"
    # what stands before it is quicker to find than all that it looks at
    if open_before(snapshot, hold.activity_id, schedule) or still_to_do(snapshot, hold, schedule):
        return "not yet"
    return "to check"


def live_attempts(snapshot: Snapshot, hold: HoldPoint) -> tuple[Attempt, ...]:
    """The attempts that count: those since the check was last opened again."""
    attempts = snapshot.attempts_of.get(hold.id, ())
    opened = max((i for i, a in enumerate(attempts) if a.state == "opened again"), default=-1)
    return attempts[opened + 1 :]


def parts_of(hold: HoldPoint) -> frozenset[int]:
    """The numbers of the parts of a check that can be released one by one."""
    return frozenset(range(1, hold.parts + 1))


def parts_ok(snapshot: Snapshot, hold: HoldPoint) -> frozenset[int]:
    """The parts that are OK to cover."""
    ok: frozenset[int] = frozenset()
    for attempt in live_attempts(snapshot, hold):
        about = frozenset(attempt.parts) or parts_of(hold)
        if attempt.state == "released":
            ok |= about - frozenset(attempt.left_out)
    return ok


def is_released(snapshot: Snapshot, hold: HoldPoint) -> bool:
    """Whether what follows may start: all of it was released, or all but some parts."""
    return any(a.state == "released" for a in live_attempts(snapshot, hold))


def left_out(snapshot: Snapshot, hold: HoldPoint) -> tuple[int, ...]:
    """The parts that a release left out and that are not OK to cover yet."""
    if not is_released(snapshot, hold):
        return ()
    return tuple(sorted(parts_of(hold) - parts_ok(snapshot, hold)))


def open_parts(snapshot: Snapshot, hold: HoldPoint) -> frozenset[int] | None:
    """The parts that are not OK to cover; empty where all is OK, None where nothing is."""
    if not is_released(snapshot, hold):
        return None
    return frozenset(left_out(snapshot, hold))


def to_mark(snapshot: Snapshot, hold: HoldPoint) -> tuple[int, ...]:
    """The parts that the next mark is about: those left out, else all."""
    return left_out(snapshot, hold) or tuple(sorted(parts_of(hold)))


def looked_at(snapshot: Snapshot, hold: HoldPoint) -> tuple[Activity, ...]:
    """The tasks that put in what a check looks at, but for those that come after it."""
    later = behind(snapshot, hold.activity_id)
    tasks = {
        task.id: task
        for layer_id in hold.layer_ids
        for e in snapshot.effects_on.get(layer_id, ())
        if e.verb == "puts in" and e.activity_id not in later
        if (task := snapshot.activities[e.activity_id]).ended is None
    }
    return tuple(sorted(tasks.values(), key=lambda a: a.order))


def still_to_do(
    snapshot: Snapshot, hold: HoldPoint, schedule: Schedule | None = None
) -> tuple[Activity, ...]:
    """What has to be done before a check can be looked at: all before it, all that it looks at."""
    before = open_before(snapshot, hold.activity_id, schedule)
    named = {a.id for a in before}
    unseen = (a for a in looked_at(snapshot, hold) if a.finished is None and a.id not in named)
    return (*before, *unseen)
