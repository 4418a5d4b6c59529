"""The backward pass: the latest dates, and how far each activity may slip before others move.

The latest place of an activity is the latest from which the forward rules still meet every late
date after it. The same rule with the early dates of the others in place of their late ones gives
the free float, so one sweep works out both.
"""

from dataclasses import dataclass, field

from server.core.schedule.forward import PASSES, Early
from server.core.schedule.instants import FOREVER
from server.core.schedule.lags import allowed
from server.core.schedule.plan import FROM_START, IDLE, TO_FINISH, WORKING, Plan


@dataclass(slots=True)
class Late:
    """The latest dates in minutes, by activity, with the free floats in working minutes.

    What is done is where it was.
    """

    position: list[int]
    gate: list[int]
    finish: list[int]
    free: list[int]

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
    code = plan.code
    if any(plan.done):
        code = [kind | (IDLE if plan.done[plan.after[k]] else 0) for k, kind in enumerate(code)]
    limited = [k for k in plan.limited if k not in set(early.broken) and not code[k] & IDLE]
    free_caps = _Caps()
    _tighten(plan, early, limited, free_caps)
    while True:
        caps = _Caps()
        late = _sweep(plan, early, horizon, code, caps, free_caps)
        for _ in range(PASSES - 1):
            if not _tighten(plan, late, _longer(plan, late, limited), caps):
                return late
            late = _sweep(plan, early, horizon, code, caps, free_caps)
        broken = _longer(plan, late, limited)
        if not broken:
            return late
        limited = [k for k in limited if k not in set(broken)]


def _sweep(
    plan: Plan, early: Early, horizon: int, code: list[int], caps: _Caps, free_caps: _Caps
) -> Late:
    free = [0] * len(plan.order)
    late = Late(early.position.copy(), early.gate.copy(), early.finish.copy(), free)
    rules, work, following, done = plan.rules, plan.work, plan.following, plan.done
    after, lag, gate, early_gate = plan.after, plan.lag, late.gate, early.gate
    bounded = {*plan.finish_by, *caps.starts, *caps.finishes}
    bounded.update(free_caps.starts, free_caps.finishes)
    for i in reversed(plan.order):
        if done[i]:
            continue
        start = free_start = FOREVER
        finish = free_finish = horizon
        particular = i in bounded
        for k in following[i]:
            if code[k]:
                particular = True
                continue
            last, least = after[k], lag[k]
            limit = gate[last] - least
            if limit < finish:
                finish = limit
            limit = early_gate[last] - least
            if limit < free_finish:
                free_finish = limit
        if particular:
            start, finish = _limits(plan, i, code, late, caps, finish)
            free_start, free_finish = _limits(plan, i, code, early, free_caps, free_finish)
        late.position[i], gate[i], late.finish[i] = rules[i].backward(start, finish, work[i])
        kept = rules[i].backward(free_start, free_finish, work[i])[0] - early.position[i]
        if kept > 0:
            free[i] = kept
    return late


def _limits(
    plan: Plan, i: int, code: list[int], others: Early | Late, caps: _Caps, finish: int
) -> tuple[int, int]:
    """The latest start and finish of one activity that leave the others where they are.

    `finish` is what the dependencies without a code allow already.
    """
    start = caps.starts.get(i, FOREVER)
    finish = min(finish, plan.finish_by.get(i, FOREVER), caps.finishes.get(i, FOREVER))
    for k in plan.following[i]:
        kind = code[k]
        if not kind or kind & IDLE or (kind & FROM_START and i in plan.facts):
            continue
        last = plan.after[k]
        limit = others.finish[last] if kind & TO_FINISH else others.gate[last]
        limit = allowed(limit, plan.lag[k], bool(kind & WORKING), plan.rules[last].hours)
        if kind & FROM_START:
            start = min(start, limit)
        else:
            finish = min(finish, limit)
    return start, finish


def _most_allows(plan: Plan, dates: Early | Late, k: int) -> tuple[int, int]:
    """The latest that a dependency's most lets its later end be, and where that end is."""
    first, last, kind = plan.before[k], plan.after[k], plan.code[k]
    most = plan.network.dependencies[k].most
    if most is None or (last in plan.facts and not kind & TO_FINISH):
        return FOREVER, FOREVER
    origin = dates.start(first, plan) if kind & FROM_START else dates.finish[first]
    return origin + most, dates.finish[last] if kind & TO_FINISH else dates.gate[last]


def _longer(plan: Plan, dates: Late, limited: list[int]) -> list[int]:
    """Those dependencies that these dates make longer than their most."""
    longer = []
    for k in limited:
        limit, end = _most_allows(plan, dates, k)
        if end > limit:
            longer.append(k)
    return longer


def _tighten(plan: Plan, dates: Early | Late, limited: list[int], caps: _Caps) -> bool:
    """Cap the later end of each of these dependencies; False if all are as tight already."""
    tightened = False
    for k in limited:
        limit, _ = _most_allows(plan, dates, k)
        last = plan.after[k]
        ends = caps.finishes if plan.code[k] & TO_FINISH else caps.starts
        if limit < ends.get(last, FOREVER):
            ends[last] = limit
            tightened = True
    return tightened
