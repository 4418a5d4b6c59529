"""The backward pass: the latest dates, and how far each activity may slip before others move.

The latest place of an activity is the latest from which the forward rules still meet every late
date after it. The same rule with the early dates of the others in place of their late ones gives
the free float, so one sweep works out both.
"""

from dataclasses import dataclass, field

from server.core.schedule.forward import PASSES, Early
from server.core.schedule.instants import FOREVER, Minutes, all_of
from server.core.schedule.lags import allowed
from server.core.schedule.plan import FROM_START, TO_FINISH, WORKING, Plan


@dataclass(slots=True)
class Late:
    """The latest dates in minutes, by activity, with the free floats in working minutes.

    What is done is where it was.
    """

    position: Minutes
    gate: Minutes
    finish: Minutes
    free: Minutes

    def start(self, i: int, plan: Plan) -> int:
        """The latest or actual start."""
        fact = plan.facts.get(i)
        return self.gate[i] if fact is None else fact


@dataclass(slots=True)
class _Caps:
    """The latest that `most` lets starts and finishes be, because of what comes before them."""

    starts: dict[int, int] = field(default_factory=dict)
    finishes: dict[int, int] = field(default_factory=dict)


@dataclass(slots=True)
class _Limits:
    """The latest that starts (where anything asks for it) and finishes may be."""

    starts: dict[int, int]
    finishes: Minutes

    def lower(self, i: int, instant: int, *, start: bool) -> None:
        """No later than `instant`."""
        if start:
            self.starts[i] = min(instant, self.starts.get(i, FOREVER))
        else:
            self.finishes[i] = min(instant, self.finishes[i])


def backward_pass(plan: Plan, early: Early, horizon: int) -> Late:
    """The latest dates with which nothing finishes after `horizon` or its own date.

    A `most` that 50 sweeps cannot keep (a date asks for the impossible) is left out.
    """
    limited = [k for k in plan.limited if k not in set(early.broken)]
    limited = [k for k in limited if not plan.done[plan.after(k)]]
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
    """Each activity placed as late as those after it allow, which have been placed already."""
    late = _where_it_is(early)
    position, gate, finish, free = late.position, late.gate, late.finish, late.free
    limits, free_limits = _limits(plan, horizon, caps), _limits(plan, horizon, free_caps)
    latest, free_latest = limits.finishes, free_limits.finishes
    starts, free_starts = limits.starts, free_limits.starts
    rules, work, done, mixed = plan.rules, plan.work, plan.done, plan.mixed
    before, preceding = plan.before, plan.preceding
    early_position, early_gate, early_finish = early.position, early.gate, early.finish
    for i in reversed(plan.order):
        if done[i]:
            continue
        rule, minutes, stays = rules[i], work[i], early_gate[i]
        start = starts.get(i, FOREVER) if starts else FOREVER
        position[i], goes, finish[i] = rule.backward(start, latest[i], minutes)
        gate[i] = goes
        start = free_starts.get(i, FOREVER) if free_starts else FOREVER
        # What already ends as late as it may has no free float.
        if start < FOREVER or free_latest[i] > early_finish[i]:
            kept = rule.backward(start, free_latest[i], minutes)[0] - early_position[i]
            if kept > 0:
                free[i] = kept
        if i in mixed:
            _allow(plan, i, goes, finish[i], limits)
            _allow(plan, i, stays, early_finish[i], free_limits)
            continue
        for k in preceding[i]:
            first = before[k]
            if goes < latest[first]:
                latest[first] = goes
            if stays < free_latest[first]:
                free_latest[first] = stays
    return late


def _where_it_is(early: Early) -> Late:
    free = all_of(0, len(early.position))
    return Late(early.position[:], early.gate[:], early.finish[:], free)


def _limits(plan: Plan, horizon: int, caps: _Caps) -> _Limits:
    """What limits each activity before any that come after it do."""
    limits = _Limits(caps.starts.copy(), all_of(horizon, len(plan.order)))
    for finishes in (plan.finish_by, caps.finishes):
        for i, instant in finishes.items():
            limits.lower(i, instant, start=False)
    return limits


def _allow(plan: Plan, i: int, gate: int, finish: int, limits: _Limits) -> None:
    """Limit what comes before an activity to what leaves it where it is."""
    hours = plan.rules[i].hours
    for k in plan.preceding[i]:
        first, kind = plan.before[k], plan.code.get(k, 0)
        if kind & FROM_START and first in plan.facts:
            continue
        limit, lag = finish if kind & TO_FINISH else gate, plan.network.dependencies[k].lag
        instant = allowed(limit, lag, bool(kind & WORKING), hours)
        limits.lower(first, instant, start=bool(kind & FROM_START))


def _most_allows(plan: Plan, dates: Early | Late, k: int) -> tuple[int, int]:
    """The latest that a dependency's most lets its later end be, and where that end is."""
    first, last, kind = plan.before[k], plan.after(k), plan.code.get(k, 0)
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
        last = plan.after(k)
        ends = caps.finishes if plan.code.get(k, 0) & TO_FINISH else caps.starts
        if limit < ends.get(last, FOREVER):
            ends[last] = limit
            tightened = True
    return tightened
