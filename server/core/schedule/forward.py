"""The forward pass: the earliest dates.

One sweep in topological order pushes each activity's bounds on to what follows. Where a
dependency has a `most`, the sweep is repeated: after each, the earlier activity of every broken
one is held back just far enough, until all hold. What 50 sweeps cannot mend is set aside as too
long, and the sweeps begin again without it.
"""

from dataclasses import dataclass, field

from server.core.schedule.instants import NEVER, Minutes, all_of
from server.core.schedule.lags import asked
from server.core.schedule.plan import FROM_START, TO_FINISH, WORKING, Plan

PASSES = 50


@dataclass(slots=True)
class Held:
    """How far back `most` holds starts and finishes, each with the dependency that does it."""

    starts: dict[int, tuple[int, int]] = field(default_factory=dict)
    finishes: dict[int, tuple[int, int]] = field(default_factory=dict)


@dataclass(slots=True)
class Early:
    """The earliest dates in minutes, by activity.

    `held` is what `most` had to hold back for them, `broken` the dependencies that were set aside.
    """

    position: Minutes
    gate: Minutes
    finish: Minutes
    held: Held
    broken: list[int] = field(default_factory=list)

    def start(self, i: int, plan: Plan) -> int:
        """The earliest or actual start."""
        fact = plan.facts.get(i)
        return self.gate[i] if fact is None else fact


def forward_pass(plan: Plan) -> Early:
    """The least dates that satisfy every bound. Marks the waits that have run out as done."""
    early = _sweep(plan, Held())
    _end_waits(plan, early)
    broken: set[int] = set()
    while plan.limited:
        held = Held()
        for _ in range(PASSES - 1):
            if not _hold_back(plan, early, broken, held):
                break
            early = _sweep(plan, held)
        still = {k for k in plan.limited if k not in broken and _excess(plan, early, k) > 0}
        if not still:
            break
        broken |= still
        early = _sweep(plan, Held())
    early.broken = sorted(broken)
    return early


def _sweep(plan: Plan, held: Held) -> Early:
    """The earliest dates, with what `most` holds back so far."""
    count = len(plan.raw)
    raw, raw_finish = plan.raw[:], all_of(NEVER, count)
    for i, (instant, _) in held.starts.items():
        raw[i] = max(raw[i], instant)
    for i, (instant, _) in held.finishes.items():
        raw_finish[i] = instant
    position, gate, finish = all_of(0, count), all_of(0, count), all_of(0, count)
    rules, work, before, preceding = plan.rules, plan.work, plan.before, plan.preceding
    mixed = plan.mixed
    for i in plan.order:
        start = raw[i]
        if i in mixed:
            start, raw_finish[i] = _bounds(plan, i, gate, finish, start, raw_finish[i])
        else:
            for k in preceding[i]:
                end = finish[before[k]]
                if end > start:
                    start = end
        position[i], gate[i], finish[i] = rules[i].forward(start, raw_finish[i], work[i])
    return Early(position, gate, finish, held)


def _bounds(
    plan: Plan, i: int, gate: Minutes, finish: Minutes, start: int, end: int
) -> tuple[int, int]:
    """The latest bounds on an activity's start and finish, with those of its dependencies."""
    for k in plan.preceding[i]:
        first = plan.before[k]
        bound = bound_of(plan, k, plan.facts.get(first, gate[first]), finish[first])
        if plan.code.get(k, 0) & TO_FINISH:
            end = max(end, bound)
        else:
            start = max(start, bound)
    return start, end


def bound_of(plan: Plan, k: int, start: int, finish: int) -> int:
    """What a dependency asks of its later end, when its earlier activity has these dates."""
    kind = plan.code.get(k, 0)
    origin = start if kind & FROM_START else finish
    hours = plan.rules[plan.after(k)].hours
    return asked(origin, plan.network.dependencies[k].lag, bool(kind & WORKING), hours)


def _end_waits(plan: Plan, early: Early) -> None:
    """A wait ends by itself: it is done when all before it is, and its time has passed."""
    ending = {i for i in plan.waits if not plan.done[i] and early.finish[i] <= plan.status}
    if ending:
        for i in plan.order:
            if i in ending:
                plan.done[i] = all(plan.done[plan.before[k]] for k in plan.preceding[i])


def _excess(plan: Plan, early: Early, k: int) -> int:
    """By how many minutes a dependency is longer than its most; what is done is past judging."""
    first, last, kind = plan.before[k], plan.after(k), plan.code.get(k, 0)
    most = plan.network.dependencies[k].most
    if plan.done[last] or most is None:
        return 0
    end = early.finish[last] if kind & TO_FINISH else early.start(last, plan)
    origin = early.start(first, plan) if kind & FROM_START else early.finish[first]
    return end - origin - most


def _hold_back(plan: Plan, early: Early, broken: set[int], held: Held) -> bool:
    """Hold the earlier activity of every broken dependency back as far as these dates ask."""
    moved = False
    for k in plan.limited:
        first, from_start = plan.before[k], plan.code.get(k, 0) & FROM_START
        excess = 0 if k in broken else _excess(plan, early, k)
        if excess <= 0 or plan.done[first] or (from_start and first in plan.facts):
            continue
        origin = early.start(first, plan) if from_start else early.finish[first]
        ends = held.starts if from_start else held.finishes
        if first not in ends or origin + excess > ends[first][0]:
            ends[first] = origin + excess, k
            moved = True
    return moved
