"""The computed schedule: dates, floats and what sets them, made into datetimes when asked for."""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property, partial

from server.core.schedule.backward import Late
from server.core.schedule.drivers import Driver, Drivers
from server.core.schedule.forward import Early
from server.core.schedule.instants import moment_of
from server.core.schedule.network import Dependency, Network
from server.core.schedule.plan import Plan
from server.core.schedule.readiness import ready_activities
from server.core.schedule.runs import Arrival


@dataclass(frozen=True)
class Dates:
    """One activity's dates. Floats are working minutes on its calendar.

    What set its early start, `driver`, is worked out when it is asked for.
    """

    early_start: datetime
    early_finish: datetime
    late_start: datetime
    late_finish: datetime
    total_float: int
    free_float: int
    critical: bool
    ready: bool
    _find: Callable[[], Driver] = field(repr=False, compare=False)

    @cached_property
    def driver(self) -> Driver | None:
        """What set the early start."""
        return self._find()


class Schedule(Mapping[str, Dates]):
    """The dates of every activity by its id, in the order given, and what sets the finish.

    `plan` is what it was computed from, in numbers; private to the chain core.
    """

    def __init__(self, plan: Plan, early: Early, late: Late, horizon: int) -> None:
        self.plan = plan
        self._early = early
        self._late = late
        self._horizon = horizon
        self._made: dict[str, Dates] = {}

    @cached_property
    def status(self) -> datetime:
        """As of when these dates are: what lies before it happened, what lies after is forecast."""
        return moment_of(self.plan.status)

    @cached_property
    def finish(self) -> datetime:
        """When the last activity finishes; the start, if there is none."""
        return moment_of(self._horizon)

    @cached_property
    def too_long(self) -> tuple[Dependency, ...]:
        """The dependencies whose `most` cannot be kept, in the order given."""
        return tuple(self.plan.network.dependencies[k] for k in self._early.broken)

    @cached_property
    def done(self) -> frozenset[str]:
        """What has finished, and the waits that have run out."""
        activities = self.plan.network.activities
        return frozenset(a.id for a, d in zip(activities, self.plan.done, strict=True) if d)

    @cached_property
    def critical_path(self) -> tuple[str, ...]:
        """From the activity that finishes last back through what set each, in order of time.

        Of several that finish last, the first given that is not done.
        """
        finish, done = self._early.finish, self.plan.done
        last = [i for i, end in enumerate(finish) if end == self._horizon]
        if not last:
            return ()
        return self._ids(self.drivers.walk(min(last, key=lambda i: (done[i], i))))

    def path(self, to: str) -> tuple[str, ...]:
        """The same from any activity. KeyError if there is none of this id."""
        return self._ids(self.drivers.walk(self.plan.index[to]))

    def part(self, wanted: Collection[str]) -> Network:
        """The part of its network on which the early dates of some activities depend.

        That is all before them, and what holds any of that back by a `most`.
        """
        plan = self.plan
        held: dict[int, list[int]] = {}
        for k in plan.limited:
            held.setdefault(plan.before[k], []).append(plan.after(k))
        open_ends = [plan.index[id] for id in wanted]
        found = set(open_ends)
        while open_ends:
            i = open_ends.pop()
            for other in (*(plan.before[k] for k in plan.preceding[i]), *held.get(i, ())):
                if other not in found:
                    found.add(other)
                    open_ends.append(other)
        network = plan.network
        between = {k for i in found for k in plan.preceding[i]}
        return replace(
            network,
            activities=[network.activities[i] for i in sorted(found)],
            dependencies=[network.dependencies[k] for k in sorted(between)],
            status=self.status,
        )

    def __getitem__(self, id: str) -> Dates:
        dates = self._made.get(id)
        if dates is None:
            dates = self._made[id] = self._dates(id)
        return dates

    def __contains__(self, id: object) -> bool:
        return id in self.plan.index

    def _dates(self, id: str) -> Dates:
        i = self.plan.index[id]
        plan, early, late = self.plan, self._early, self._late
        total = late.position[i] - early.position[i]
        return Dates(
            early_start=moment_of(early.start(i, plan)),
            early_finish=moment_of(early.finish[i]),
            late_start=moment_of(self._late_start(i)),
            late_finish=moment_of(late.finish[i]),
            total_float=total,
            free_float=late.free[i],
            critical=not plan.done[i] and (total <= 0 or id in self._on_critical_path),
            ready=self._ready[i],
            _find=partial(self.drivers.of, i),
        )

    def __iter__(self) -> Iterator[str]:
        return iter(self.plan.index)

    def __len__(self) -> int:
        return len(self.plan.index)

    @cached_property
    def _on_critical_path(self) -> frozenset[str]:
        return frozenset(self.critical_path)

    @cached_property
    def _ready(self) -> list[bool]:
        return ready_activities(self.plan, self._early)

    @cached_property
    def drivers(self) -> Drivers:
        """What set each early start."""
        return Drivers(self.plan, self._early)

    def _ids(self, walked: list[int]) -> tuple[str, ...]:
        return tuple(self.plan.network.activities[i].id for i in walked)

    def _late_start(self, i: int) -> int:
        """A delivery promised but not ordered must be ordered its lead before it must arrive."""
        plan, late = self.plan, self._late
        if isinstance(plan.rules[i], Arrival) and i not in plan.facts:
            hours = plan.rules[i].hours
            return hours.opening(hours.worked(late.finish[i]) - plan.work[i])
        return late.start(i, plan)
