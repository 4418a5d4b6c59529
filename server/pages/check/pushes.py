"""What a press would push, tried on the snapshot before anybody presses it."""

from collections.abc import Mapping
from datetime import datetime, timedelta

from server.core.changes import Command, change
from server.core.changes.holds import LookAgain, Reject
from server.core.refusals import Message, Refusal, message
from server.core.schedule import Schedule
from server.core.world import Activity, Snapshot
from server.core.world.network import forecast
from server.pages.check.asking import Asking, may_release
from server.pages.check.commands import USUAL_REWORK

TRIED = "tried"
"""Stands for an id in a command that is only tried."""


def pushes_of(asking: Asking, status: datetime) -> Mapping[str, str]:
    """For looking again and for rejecting, what that would move."""
    if asking.state != "marked" or not may_release(asking):
        return {}
    by = asking.now + timedelta(hours=2)
    again = LookAgain(hold_id=asking.hold.id, by=by, reason=TRIED)
    return {
        "again": _said(asking, again, status),
        "reject": rejection(asking, USUAL_REWORK, status),
    }


def rejection(asking: Asking, rework: int, status: datetime) -> str:
    """What a rejection with so many minutes of rework would move."""
    command = Reject(hold_id=asking.hold.id, rework_id=TRIED, reason=TRIED, rework=rework)
    return _said(asking, command, status)


def _said(asking: Asking, command: Command, status: datetime) -> str:
    moved = pushed_by(asking, command, status)
    return asking.say(moved) if moved else ""


def pushed_by(asking: Asking, command: Command, status: datetime) -> Message | None:
    """What moves, in a sentence; None where the command would be refused.

    Named are the crew that comes back, the first work behind the check that comes on another day,
    and the finish of the detail where its day changes.
    """
    snapshot = asking.snapshot
    try:
        after = change(snapshot, asking.actor, command, asking.now).after
    except Refusal:
        return None
    detail_id = snapshot.activities[asking.hold.activity_id].detail_id
    before, then = asking.schedule, forecast(after, status)
    back = after.activities.get(TRIED)
    crew = after.crews.get(back.crew_id or "") if back else None
    moves = _moves(snapshot, detail_id, before, then)
    finish = _finish(after, detail_id, then)
    if finish != _finish(snapshot, detail_id, before):
        moves = message("check.moves_finish", moves=moves, day=finish.date())
    return message("check.comes_back", crew=crew.name, moves=moves) if crew else moves


def _moves(snapshot: Snapshot, detail_id: str, before: Schedule, then: Schedule) -> Message:
    moved = [
        a for a in snapshot.chain_of(detail_id) if a.kind == "task" and _day_moves(a, before, then)
    ]
    if not moved:
        return message("check.nothing_moves")
    first = min(moved, key=lambda a: before[a.id].early_start)
    return message("check.moves", work=first.name, day=then[first.id].early_start.date())


def _finish(snapshot: Snapshot, detail_id: str, schedule: Schedule) -> datetime:
    """The end of the day on which a detail finishes, so that hours do not count as a move."""
    finish = max(schedule[a.id].early_finish for a in snapshot.chain_of(detail_id))
    return finish.replace(hour=0, minute=0)


def _day_moves(activity: Activity, before: Schedule, then: Schedule) -> bool:
    if activity.started is not None or activity.finished is not None:
        return False
    return before[activity.id].early_start.date() != then[activity.id].early_start.date()
