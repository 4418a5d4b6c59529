"""Warnings of sequence: what happened out of order."""

from collections.abc import Iterable

from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import Warning, identity, warns
from server.core.world import Activity, Dependency, Snapshot


@warns(
    "out of order",
    title=message("warning.out_of_order.title"),
    bad="in the way",
    family="sequence",
)
def out_of_order(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Started or finished before something it depends on, which is still open."""
    for activity in snapshot.chain:
        if activity.started is None and activity.finished is None:
            continue
        for dependency in snapshot.before.get(activity.id, ()):
            before = snapshot.activities[dependency.before_id]
            hold = snapshot.hold_of.get(before.id)
            if before.ended is not None or (hold is not None and hold.witness):
                continue
            if not _broken(dependency, before, activity, before.id in schedule.done):
                continue
            yield Warning(
                rule="out of order",
                bad="in the way",
                title=message("warning.out_of_order.title"),
                sentence=message(
                    "warning.out_of_order.said",
                    work=activity.name,
                    before=before.name,
                    done=activity.finished is not None,
                ),
                identity=identity("out of order", activity.id, before.id, activity.started),
                detail_id=activity.detail_id,
                activity_ids=(activity.id, before.id),
                crew_id=before.crew_id,
            )


def _broken(d: Dependency, before: Activity, after: Activity, done: bool) -> bool:
    """Whether `after` has gone ahead of a `before` that is still open."""
    if d.type == "FS":
        return not done
    if d.type == "SS":
        return before.started is None and not done
    if d.type == "FF":
        return after.finished is not None and not done
    return after.finished is not None and before.started is None and not done
