"""The backward pass: the latest dates, and how far each activity may slip before others move.

The latest place of an activity is the latest from which the forward rules still meet every late
date after it. The same rule with the early dates of the others in place of their late ones gives
the free float.
"""

from dataclasses import dataclass, field

from server.core.schedule.forward import PASSES, Early
from server.core.schedule.instants import FOREVER
from server.core.schedule.lags import allowed
from server.core.schedule.plan import FROM_START, TO_FINISH, WORKING, Plan
from server.core.schedule.runs import Place


@dataclass(slots=True)
class Late:
    """The latest dates in minutes, by activity. What is done is where it was."""

    position: list[int]
    gate: list[int]
    finish: list[int]

    def start(self, i: int, plan: Plan) -> int:
        """The latest or actual start."""
        fact = plan.facts.get(i)
        return self.gate[i] if fact is None else fact


@dataclass(slots=True)
class _Caps:
    """The latest that `most` lets starts and finishes be, because of what comes before them."""

    starts: dict[int, int] = field(default_factory=dict)
    finishes: dict[int, int] = field(default_factory=dict)


def backward_pass(plan: Plan, early: Early, horizon: int) -> Late:
    """The latest dates with which nothing finishes after `horizon` or its own date.

    A `most` that 50 sweeps cannot keep (a date asks for the impossible) is left out.
    """
    limited = [k for k in plan.limited if k not in set(early.broken)]
    while True:
        caps = _Caps()
        late = _sweep(plan, early, horizon, caps)
        for _ in range(PASSES - 1):
            if not _tighten(plan, late, limited, caps):
                return late
            late = _sweep(plan, early, horizon, caps)
        broken = {k for k in limited if _tighten(plan, late, [k], caps)}
        if not broken:
            return late
        limited = [k for k in limited if k not in broken]


def free_floats(plan: Plan, early: Early, horizon: int) -> list[int]:
    """Working minutes each activity may slip while every other early date stays; never below 0."""
    caps = _Caps()
    known = Late(early.position, early.gate, early.finish)
    _tighten(plan, known, [k for k in plan.limited if k not in set(early.broken)], caps, every=True)
    floats = [0] * len(plan.order)
    for i, done in enumerate(plan.done):
        if not done:
            place = _latest(plan, i, known, horizon, caps)
            floats[i] = max(0, place[0] - early.position[i])
    return floats


def _sweep(plan: Plan, early: Early, horizon: int, caps: _Caps) -> Late:
    late = Late(early.position.copy(), early.gate.copy(), early.finish.copy())
    for i in reversed(plan.order):
        if not plan.done[i]:
            place = _latest(plan, i, late, horizon, caps)
            late.position[i], late.gate[i], late.finish[i] = place
    return late


def _latest(plan: Plan, i: int, others: Late, horizon: int, caps: _Caps) -> Place:
    """The latest place of one activity that leaves the others where they are."""
    start = FOREVER
    finish = horizon
    if i in plan.finish_by:
        finish = min(finish, plan.finish_by[i])
    if plan.limited:
        start = min(start, caps.starts.get(i, FOREVER))
        finish = min(finish, caps.finishes.get(i, FOREVER))
    after, code, lag, done, gate = plan.after, plan.code, plan.lag, plan.done, others.gate
    for k in plan.following[i]:
        last = after[k]
        if done[last]:
            continue
        kind = code[k]
        if not kind:
            limit = gate[last] - lag[k]
            if limit < finish:
                finish = limit
            continue
        if kind & FROM_START and i in plan.facts:
            continue
        limit = others.finish[last] if kind & TO_FINISH else gate[last]
        limit = allowed(limit, lag[k], kind >= WORKING, plan.hours[last])
        if kind & FROM_START:
            start = min(start, limit)
        else:
            finish = min(finish, limit)
    return plan.backward[i](start, finish, plan.work[i])


def _tighten(
    plan: Plan, dates: Late, limited: list[int], caps: _Caps, *, every: bool = False
) -> bool:
    """Cap the later end of each dependency that these dates make longer than its most.

    With `every`, of all of them, whether longer or not.
    """
    tightened = False
    for k in limited:
        first, last, kind = plan.before[k], plan.after[k], plan.code[k]
        most = plan.network.dependencies[k].most
        if most is None or plan.done[last] or (last in plan.facts and not kind & TO_FINISH):
            continue
        origin = dates.start(first, plan) if kind & FROM_START else dates.finish[first]
        end = dates.finish[last] if kind & TO_FINISH else dates.gate[last]
        caps_of_end = caps.finishes if kind & TO_FINISH else caps.starts
        limit = origin + most
        if (every or end > limit) and limit < caps_of_end.get(last, FOREVER):
            caps_of_end[last] = limit
            tightened = True
    return tightened
