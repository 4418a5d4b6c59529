"""Which activities may start now: what holds their start is done, and no check stands before them.

A finish that is held (FF, SF) does not keep an activity from starting. A hold point that is not
released does, however far before it lies, through activities that are done too: what is behind it
must still be seen.
"""

from server.core.schedule.forward import Early, bound_of
from server.core.schedule.instants import minutes_of
from server.core.schedule.network import Kind
from server.core.schedule.plan import FROM_START, TO_FINISH, Plan


def ready_activities(plan: Plan, early: Early) -> list[bool]:
    """For each activity whether it has not started and may start at the status."""
    activities, status = plan.network.activities, plan.status
    count = len(activities)
    may_start = [not a.not_before or minutes_of(a.not_before) <= status for a in activities]
    behind_hold = [a.kind is Kind.HOLD and not plan.done[i] for i, a in enumerate(activities)]
    begun = [False] * count
    for i in plan.order:
        for k in plan.preceding[i]:
            first, kind = plan.before[k], plan.code.get(k, 0)
            if not kind & TO_FINISH and may_start[i]:
                happened = begun[first] if kind & FROM_START else plan.done[first]
                may_start[i] = (
                    happened
                    and not behind_hold[first]
                    and bound_of(plan, k, early.start(first, plan), early.finish[first]) <= status
                )
            behind_hold[i] |= behind_hold[first]
        by_itself = may_start[i] and activities[i].kind is Kind.WAIT and early.gate[i] <= status
        begun[i] = plan.done[i] or i in plan.facts or by_itself
    return [may_start[i] and not begun[i] for i in range(count)]
