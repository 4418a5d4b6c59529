"""The backward pass: the latest dates, and how far each activity may slip before others move.

The latest place of an activity is the latest from which the forward rules still meet every late
date after it. The same rule with the early dates of the others in place of their late ones gives
the free float, so one sweep works out both.
"""

from dataclasses import dataclass, field

from server.core.schedule.forward import PASSES, Early
from server.core.schedule.instants import FOREVER
from server.core.schedule.lags import allowed
from server.core.schedule.plan import FROM_START, TO_FINISH, WORKING, Plan


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
    limited = [k for k in plan.limited if k not in set(early.broken)]
    limited = [k for k in limited if not plan.done[plan.after[k]]]
    free_caps = _Caps()
    _tighten(plan, early, limited, free_caps)
    while True:
        caps = _Caps()
        late = _sweep(plan, early, horizon, caps, free_caps)
        for _ in range(PASSES - 1):
            if not _tighten(plan, late, _longer(plan, late, limited), caps):
                return late
            late = _sweep(plan, early, horizon, caps, free_caps)
        broken = _longer(plan, late, limited)
        if not broken:
            return late
        limited = [k for k in limited if k not in set(broken)]


def _sweep(plan: Plan, early: Early, horizon: int, caps: _Caps, free_caps: _Caps) -> Late:
    late = _where_it_is(early)
    position, gate, finish, free = late.position, late.gate, late.finish, late.free
    early_position, early_gate, early_finish = early.position, early.gate, early.finish
    rules, work, simple, done = plan.rules, plan.work, plan.simple, plan.done
    bounded = {*plan.particular, *plan.finish_by, *caps.starts, *caps.finishes}
    bounded.update(free_caps.starts, free_caps.finishes)
    ended = any(done)
    for i in reversed(plan.order):
        if done[i]:
            continue
        latest = free_latest = horizon
        for last in simple[i]:
            if ended and done[last]:
                continue
            if gate[last] < latest:
                latest = gate[last]
            if early_gate[last] < free_latest:
                free_latest = early_gate[last]
        start = free_start = FOREVER
        if i in bounded:
            start, latest = _limits(plan, i, late, caps, latest)
            free_start, free_latest = _limits(plan, i, early, free_caps, free_latest)
        position[i], gate[i], finish[i] = rules[i].backward(start, latest, work[i])
        # What already ends as late as it may has no free float.
        if free_start < FOREVER or free_latest > early_finish[i]:
            kept = rules[i].backward(free_start, free_latest, work[i])[0] - early_position[i]
            if kept > 0:
                free[i] = kept
    return late


def _where_it_is(early: Early) -> Late:
    return Late(
        early.position.copy(), early.gate.copy(), early.finish.copy(), [0] * len(early.position)
    )


def _limits(plan: Plan, i: int, others: Early | Late, caps: _Caps, finish: int) -> tuple[int, int]:
    """The latest start and finish of one activity that leave the others where they are.

    `finish` is what its simple dependencies allow already.
    """
    start = caps.starts.get(i, FOREVER)
    finish = min(finish, plan.finish_by.get(i, FOREVER), caps.finishes.get(i, FOREVER))
    for k in plan.particular.get(i, ()):
        last, kind = plan.after[k], plan.code[k]
        if plan.done[last] or (kind & FROM_START and i in plan.facts):
            continue
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
