"""What an activity's dates and facts say about it, before any dependency does."""

from dataclasses import dataclass
from typing import Literal

from server.core.schedule.hours import Hours
from server.core.schedule.instants import minutes_of
from server.core.schedule.network import Activity, Kind
from server.core.schedule.runs import Arrival, Fixed, Rule

DateKind = Literal["not_before", "notice", "status", "start", "promised", "actual"]
Bound = tuple[int, DateKind]


@dataclass(slots=True)
class Begun:
    """How what has begun goes on; for a delivery, also how one with a promise does.

    `left` are the minutes still to do. `rule` None means the ordinary one, `bound` None the
    ordinary bounds, `start` None that only a promise has been made. `expected` is when a delivery
    arrives unless something holds it.
    """

    left: int
    start: int | None
    rule: Rule | None = None
    bound: Bound | None = None
    expected: Bound | None = None
    done: bool = False


def bounds_of(a: Activity, status: int, start: int) -> list[Bound]:
    """The instants before which an activity that has not begun may not start.

    A wait starts by itself, in the past too; a hold point's look needs its notice.
    """
    bounds: list[Bound] = []
    if a.not_before is not None:
        bounds.append((minutes_of(a.not_before), "not_before"))
    if a.kind is Kind.HOLD and (a.notice or a.called is not None):
        call = status if a.called is None else minutes_of(a.called)
        bounds.append((call + a.notice, "notice"))
    if a.kind is not Kind.WAIT:
        bounds.append((status, "status"))
    bounds.append((start, "start"))
    return bounds


def begun_of(a: Activity, hours: Hours, status: int) -> Begun | None:
    """What follows from its facts and promises; None if there are none."""
    ordered = a.ordered if a.kind is Kind.DELIVERY else None
    promised = a.promised if a.kind is Kind.DELIVERY else None
    fact = a.started or ordered or a.finished
    start = None if fact is None else minutes_of(fact)
    if start is None:
        if promised is None:
            return None
        expected = minutes_of(promised)
        arrival = Arrival(hours, expected, ordered=False)
        return Begun(a.work, None, arrival, None, (expected, "promised"))
    if a.finished is not None:
        fixed = Fixed(hours, start, minutes_of(a.finished))
        return Begun(0, start, fixed, (start, "actual"), done=True)
    if a.kind is Kind.DELIVERY and (promised is not None or a.remaining is None):
        if promised is not None:
            wanted: Bound = minutes_of(promised), "promised"
        else:
            wanted = hours.closing(hours.worked(start) + a.work), "actual"
        arrival = Arrival(hours, wanted[0], ordered=True)
        return Begun(a.work, start, arrival, (status, "status"), wanted)
    left = a.remaining
    if left is None:
        left = max(0, a.work - (hours.worked(status) - hours.worked(start)))
    return Begun(left, start, None, (status, "actual"))
