"""The warning of what is to be ordered now."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from server.core.changes.actuals import Order
from server.core.deliveries import comes_with_another, needed_for, order_by, review_left, too_late
from server.core.next import mover_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, Snapshot

NOW = "order now"
NOW_TITLE = message("warning.order_now.title")

# Common practice: what is to be ordered is said two weeks ahead, so that a week may be missed.
AHEAD = timedelta(days=14)


@warns(NOW, title=NOW_TITLE, bad="watch", family="supply")
def order_now(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Two weeks or less are left to the day by which it has to be ordered, its review counted.

    Only what nothing stands before: else that is what has to be done. What comes with another
    delivery is ordered with it. Once it is too late, that is told.
    """
    for activity in snapshot.chain:
        if activity.kind != "delivery" or activity.ordered or activity.finished:
            continue
        if not schedule[activity.id].ready or comes_with_another(snapshot, activity):
            continue
        by = order_by(schedule, activity)
        if by > schedule.status + AHEAD or too_late(snapshot, schedule, activity) is not None:
            continue
        yield about(
            snapshot,
            NOW,
            _said(snapshot, schedule, activity, by),
            (activity,),
            facts=(activity.work, activity.review, activity.approved),
            at=by,
            who=mover_of(snapshot, activity, schedule),
            mends=[
                Mend(
                    message("warning.ordered_today", what=activity.name),
                    (Order(activity_id=activity.id, when=schedule.status),),
                )
            ],
        )


def _said(snapshot: Snapshot, schedule: Schedule, activity: Activity, by: datetime) -> Message:
    works = tuple(a.name for a in needed_for(snapshot, activity) if not a.finished)
    if review := review_left(activity):
        return message(
            "warning.order_now.review",
            what=activity.name,
            by=by,
            review=review,
            order=schedule[activity.id].late_start,
        )
    if not works:
        return message("warning.order_now.alone", what=activity.name, by=by)
    return message("warning.order_now.said", what=activity.name, by=by, work=works)
