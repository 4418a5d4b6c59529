"""What is really about to begin, and the dates that follow from it.

The forecast begins everything as soon as it can; a crew that is asked for Thursday comes on
Thursday.
"""

from collections.abc import Collection, Mapping
from dataclasses import replace
from datetime import datetime

from server.core.schedule import Schedule, compute
from server.core.standing import firm_stands
from server.core.visits import is_open
from server.core.world import Snapshot


def begins(snapshot: Snapshot, schedule: Schedule) -> dict[str, datetime]:
    """When tasks begin, or began, that are not done: under way, asked for, or firmly next.

    Of several visits for one task the first counts. See `standing.Stand.firm`.
    """
    found: dict[str, datetime] = {}
    for stand in firm_stands(snapshot, schedule):
        for id in stand.activity_ids:
            found[id] = schedule[id].early_start
    open_visits = [b for b in snapshot.bookings.values() if is_open(b, schedule.status)]
    for visit in sorted(open_visits, key=lambda b: b.start, reverse=True):
        for id in visit.activity_ids:
            if snapshot.activities[id].finished is None:
                found[id] = visit.start
    for activity in snapshot.chain:
        if activity.started is not None and activity.finished is None:
            found[activity.id] = activity.started
    return found


def as_asked(
    schedule: Schedule, beginnings: Mapping[str, datetime], wanted: Collection[str]
) -> Schedule:
    """The early dates of the wanted activities if what is asked for begins no sooner than asked.

    Only what they depend on is computed: late dates and floats are those of that part alone. The
    schedule itself where nothing is asked for later than it is forecast.
    """
    part = schedule.part([id for id in wanted if id in schedule])
    later = {
        a.id: beginnings[a.id]
        for a in part.activities
        if a.id in beginnings and a.started is None
        if schedule[a.id].early_start < beginnings[a.id]
    }
    if not later:
        return schedule
    return compute(
        replace(
            part,
            activities=[
                replace(a, not_before=max(a.not_before or later[a.id], later[a.id]))
                if a.id in later
                else a
                for a in part.activities
            ],
        )
    )
