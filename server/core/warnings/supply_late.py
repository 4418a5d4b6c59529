"""The warning of what comes too late for what needs it."""

from collections.abc import Iterable, Iterator

from server.core.changes.actuals import Order
from server.core.changes.bookings import AgreeDates
from server.core.deliveries import TooLate, here_at, too_late
from server.core.next import mover_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import behind
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about, with_facts
from server.core.world import Activity, Snapshot

LATE = "ordered too late"
LATE_TITLE = message("warning.ordered_too_late.title")


@warns(LATE, title=LATE_TITLE, bad="in the way", family="supply")
def ordered_too_late(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The forecast of its arrival is after what needs it has to start: see `deliveries.too_late`.

    A visit that comes before it is told as that.
    """
    for activity in snapshot.chain:
        late = too_late(snapshot, schedule, activity) if activity.kind == "delivery" else None
        if late is None:
            continue
        yield about(
            snapshot,
            LATE,
            _said(schedule, activity, late),
            (activity, late.work) if late.work else (activity,),
            facts=(activity.ordered, activity.promised, late.work and late.work.id, late.promised),
            at=late.needed,
            who=mover_of(snapshot, activity, schedule),
            mends=list(_mends(snapshot, schedule, activity, late)),
        )


def _said(schedule: Schedule, activity: Activity, late: TooLate) -> Message:
    arrives = here_at(schedule, activity)
    if late.work is None:
        return message(
            "warning.ordered_too_late.alone",
            what=activity.name,
            arrives=arrives,
            needed=late.needed,
        )
    if late.promised is not None:
        return message(
            "warning.ordered_too_late.promised",
            what=activity.name,
            arrives=arrives,
            work=late.work.name,
            starts=late.starts,
            day=late.promised,
        )
    return message(
        "warning.ordered_too_late.said",
        what=activity.name,
        arrives=arrives,
        work=late.work.name,
        needed=late.needed,
    )


def _mends(
    snapshot: Snapshot, schedule: Schedule, activity: Activity, late: TooLate
) -> Iterator[Mend]:
    """Its supplier promises a day that does; or what it is late for is let go."""
    yield Mend(
        message("warning.comes_by", what=activity.name, day=late.needed),
        (
            Order(
                activity_id=activity.id,
                when=activity.ordered or schedule.status,
                promised=late.needed,
            ),
        ),
    )
    detail = snapshot.details[activity.detail_id]
    if late.work is not None and late.promised is not None:
        detail = snapshot.details[late.work.detail_id]
        yield Mend(
            message("warning.promise_again", detail=detail.name),
            (AgreeDates(detail_id=detail.id, reason=activity.name),),
        )
        return
    fixed = [
        a
        for id in (activity.id, *behind(snapshot, activity.id))
        if (a := snapshot.activities[id]).finish_by is not None
        and schedule[a.id].early_finish > a.finish_by
    ]
    if fixed:
        yield Mend(
            message("warning.not_by_then", work=tuple(a.name for a in fixed)),
            tuple(with_facts(snapshot, a, finish_by=None) for a in fixed),
        )
