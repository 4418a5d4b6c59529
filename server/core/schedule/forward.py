"""The forward pass: the earliest dates, and for each activity the bound that set its start.

One sweep in topological order pushes each activity's bounds on to what follows. Where a
dependency has a `most`, the sweep is repeated: after each, the earlier activity of every broken
one is held back just far enough, until all hold. What 50 sweeps cannot mend is set aside as too
long, and the sweeps begin again without it.
"""

from dataclasses import dataclass, field

from server.core.schedule.instants import NEVER
from server.core.schedule.lags import asked
from server.core.schedule.plan import FROM_START, TO_FINISH, WORKING, Plan
from server.core.schedule.reasons import MOST

PASSES = 50
Bound = tuple[int, int]  # an instant, and the code of what asks for it


@dataclass(slots=True)
class Early:
    """The earliest dates in minutes, by activity; `why` is the code of what set each start."""

    position: list[int]
    gate: list[int]
    finish: list[int]
    why: list[int]
    broken: list[int] = field(default_factory=list)

    def start(self, i: int, plan: Plan) -> int:
        """The earliest or actual start."""
        fact = plan.facts.get(i)
        return self.gate[i] if fact is None else fact


def forward_pass(plan: Plan) -> Early:
    """The least dates that satisfy every bound; `broken` are the dependencies set aside.

    Marks the waits that have run out as done.
    """
    early = _sweep(plan, {}, {})
    _end_waits(plan, early)
    broken: set[int] = set()
    while plan.limited:
        starts: dict[int, Bound] = {}
        finishes: dict[int, Bound] = {}
        for _ in range(PASSES - 1):
            if not _hold_back(plan, early, broken, starts, finishes):
                break
            early = _sweep(plan, starts, finishes)
        still = {k for k in plan.limited if k not in broken and _excess(plan, early, k) > 0}
        if not still:
            break
        broken |= still
        early = _sweep(plan, {}, {})
    early.broken = sorted(broken)
    return early


def _sweep(plan: Plan, starts: dict[int, Bound], finishes: dict[int, Bound]) -> Early:
    """The earliest dates, with what `most` holds back so far."""
    count = len(plan.raw)
    raw, why = plan.raw.copy(), plan.why.copy()
    raw_finish, why_finish = [NEVER] * count, [0] * count
    for i, held in starts.items():
        raw[i], why[i] = max((raw[i], why[i]), held, key=_instant)
    for i, held in finishes.items():
        raw_finish[i], why_finish[i] = held
    position, gate, finish = [0] * count, [0] * count, [0] * count
    rules, work, following = plan.rules, plan.work, plan.following
    after, code, lag, facts = plan.after, plan.code, plan.lag, plan.facts
    for i in plan.order:
        if raw_finish[i] > NEVER:
            why[i] = _reason(plan, i, (raw[i], why[i]), (raw_finish[i], why_finish[i]))
        position[i], gate[i], end = rules[i].forward(raw[i], raw_finish[i], work[i])
        finish[i] = end
        for k in following[i]:
            last = after[k]
            kind = code[k]
            if kind:
                origin = facts.get(i, gate[i]) if kind & FROM_START else end
                bound = asked(origin, lag[k], kind >= WORKING, rules[last].hours)
                if kind & TO_FINISH:
                    if (bound, -k) > (raw_finish[last], -why_finish[last]):
                        raw_finish[last], why_finish[last] = bound, k
                    continue
            else:
                bound = end + lag[k]
            if bound > raw[last] or (bound == raw[last] and k < why[last]):
                raw[last], why[last] = bound, k
    for i, (expected, reason) in plan.expected.items():
        if expected >= max(raw[i], raw_finish[i]):
            why[i] = reason
    return Early(position, gate, finish, why)


def _instant(bound: Bound) -> int:
    return bound[0]


def _reason(plan: Plan, i: int, start: Bound, finish: Bound) -> int:
    """Which of the latest bounds on the start and on the finish sets the start."""
    needed = finish[0]
    if plan.work[i] and i not in plan.expected:
        hours = plan.rules[i].hours
        needed = hours.opening(hours.worked(needed - 1) + 1 - plan.work[i])
    return finish[1] if (needed, -finish[1]) > (start[0], -start[1]) else start[1]


def _end_waits(plan: Plan, early: Early) -> None:
    """A wait ends by itself: it is done when all before it is, and its time has passed."""
    before: dict[int, list[int]] = {
        i: [] for i in plan.waits if not plan.done[i] and early.finish[i] <= plan.status
    }
    if not before:
        return
    for first, last in zip(plan.before, plan.after, strict=True):
        if last in before:
            before[last].append(first)
    for i in plan.order:
        if i in before:
            plan.done[i] = all(plan.done[first] for first in before[i])


def _excess(plan: Plan, early: Early, k: int) -> int:
    """By how many minutes a dependency is longer than its most; what is done is past judging."""
    first, last, kind = plan.before[k], plan.after[k], plan.code[k]
    most = plan.network.dependencies[k].most
    if plan.done[last] or most is None:
        return 0
    end = early.finish[last] if kind & TO_FINISH else early.start(last, plan)
    origin = early.start(first, plan) if kind & FROM_START else early.finish[first]
    return end - origin - most


def _hold_back(
    plan: Plan,
    early: Early,
    broken: set[int],
    starts: dict[int, Bound],
    finishes: dict[int, Bound],
) -> bool:
    """Hold the earlier activity of every broken dependency back as far as these dates ask."""
    moved = False
    for k in plan.limited:
        first, from_start = plan.before[k], plan.code[k] & FROM_START
        excess = 0 if k in broken else _excess(plan, early, k)
        if excess <= 0 or plan.done[first] or (from_start and first in plan.facts):
            continue
        origin = early.start(first, plan) if from_start else early.finish[first]
        held = starts if from_start else finishes
        bound = origin + excess
        if first not in held or bound > held[first][0]:
            held[first] = bound, len(plan.code) + MOST + k
            moved = True
    return moved
