"""Which bound set each early start, worked out when it is asked for.

A bound is judged on its raw instant, before that is moved to working time; one on the finish, on
the start that it asks for. Of equal ones the first counts: dependencies in the order given, then
not before, notice, status and start, and last what a `most` holds back.
"""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from server.core.schedule.facts import begun_of, bounds_of
from server.core.schedule.forward import Early, bound_of
from server.core.schedule.network import Dependency
from server.core.schedule.plan import TO_FINISH, Plan

DriverKind = Literal[
    "dependency", "most", "not_before", "notice", "status", "start", "promised", "actual"
]


@dataclass(frozen=True, slots=True)
class Driver:
    """The bound that set an early start.

    `dependency` is given for "dependency" and for "most" (then it is the later activity that
    holds this one back); every other kind is a date.
    """

    kind: DriverKind
    dependency: Dependency | None = None


class Found(NamedTuple):
    """One bound: the instant of the start that it asks for, and the dependency if it is one.

    `finish` is the instant of the finish that it asks for, where it is on the finish.
    """

    instant: int
    kind: DriverKind
    dependency: int | None = None
    finish: int | None = None


class Drivers:
    """The drivers of one schedule, and the walks back along them."""

    def __init__(self, plan: Plan, early: Early) -> None:
        self._plan = plan
        self._early = early

    def of(self, i: int) -> Driver:
        """The driver of one activity."""
        kind, k = self._find(i)
        return Driver(kind, None if k is None else self._plan.network.dependencies[k])

    def walk(self, i: int) -> list[int]:
        """Back from one activity until an actual or a date, in order of time.

        What a `most` holds back is set by what comes after it, so the walk could go in a ring; it
        stops where it would.
        """
        walked: dict[int, None] = {}
        while i not in walked:
            walked[i] = None
            kind, k = self._find(i)
            if k is not None:
                i = self._plan.after(k) if kind == "most" else self._plan.before[k]
        return [*walked][::-1]

    def bounds(self, i: int) -> list[Found]:
        """Every bound on one activity, in the order in which equal ones count."""
        plan, early = self._plan, self._early
        a = plan.network.activities[i]
        begun = begun_of(a, plan.rules[i].hours, plan.status)
        if begun is not None and begun.done:
            return [Found(plan.facts[i], "actual")]
        found: list[Found] = []
        dates = bounds_of(a, plan.status, plan.start)
        if begun is not None:
            # A fact or a promise counts before all else: only what is later takes its place.
            if begun.bound is not None:
                dates = [begun.bound]
            first = begun.expected or dates.pop()
            found.append(Found(*first))
        arrives = begun is not None and begun.expected is not None
        for k in plan.preceding[i]:
            before = plan.before[k]
            bound = bound_of(plan, k, early.start(before, plan), early.finish[before])
            to_finish = bool(plan.code.get(k, 0) & TO_FINISH) and not arrives
            found.append(self._found(i, bound, "dependency", k, to_finish))
        found += [Found(instant, kind) for instant, kind in dates]
        if i in early.held.starts:
            instant, k = early.held.starts[i]
            found.append(Found(instant, "most", k))
        if i in early.held.finishes:
            instant, k = early.held.finishes[i]
            found.append(self._found(i, instant, "most", k, not arrives))
        return found

    def _find(self, i: int) -> tuple[DriverKind, int | None]:
        """The kind of the driver, and the dependency if it is one."""
        found = max(self.bounds(i), key=lambda bound: bound.instant)
        return found.kind, found.dependency

    def _found(self, i: int, asks: int, kind: DriverKind, k: int, to_finish: bool) -> Found:
        return Found(self._start_for(i, asks), kind, k, asks) if to_finish else Found(asks, kind, k)

    def _start_for(self, i: int, finish: int) -> int:
        """The start that a bound on the finish asks for."""
        work, hours = self._plan.work[i], self._plan.rules[i].hours
        return hours.opening(hours.worked(finish - 1) + 1 - work) if work else finish
