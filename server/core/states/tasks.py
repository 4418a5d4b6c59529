"""The state of an activity."""

from typing import Literal

from server.core.schedule import Schedule
from server.core.states.before import open_before
from server.core.world import Activity, Snapshot

ActivityState = Literal["waiting", "ready", "under way", "done"]


def activity_state(snapshot: Snapshot, schedule: Schedule, activity: Activity) -> ActivityState:
    """Waiting, ready, under way or done; a wait begins and ends by itself."""
    if activity.finished is not None or activity.id in schedule.done:
        return "done"
    if activity.started is not None or activity.ordered is not None:
        return "under way"
    dates = schedule[activity.id]
    if dates.ready:
        return "ready"
    runs = activity.kind == "wait" and dates.early_start <= schedule.status
    if runs and not open_before(snapshot, activity.id, schedule):
        return "under way"
    return "waiting"
