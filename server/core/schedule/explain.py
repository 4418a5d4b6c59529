"""Why an activity is where it is: every bound on it, the one that sets it, and what comes then."""

from dataclasses import dataclass, replace
from datetime import datetime

from server.core.schedule.compute import compute
from server.core.schedule.drivers import DriverKind, Found
from server.core.schedule.instants import NEVER, moment_of
from server.core.schedule.network import Dependency, Network
from server.core.schedule.result import Schedule
from server.core.schedule.runs import Arrival


@dataclass(frozen=True, slots=True)
class Bound:
    """One bound on an activity.

    `at` is the instant it asks for, before that is moved to working time; of the finish where
    `on_finish`, else of the start. `start` is the early start that it alone would give: for what
    has begun, when the rest of it would go on; for a delivery that is ordered or promised, when it
    would arrive. `dependency` is given for "dependency" and for "most" (then it is the later
    activity that holds this one back, and `at` what it asked for when it last did).
    """

    kind: DriverKind
    at: datetime
    on_finish: bool
    start: datetime
    dependency: Dependency | None = None


@dataclass(frozen=True, slots=True)
class Explanation:
    """The bounds on one activity, the latest first, and the one that sets it.

    `start` is the date explained: the early start; for what has begun, when the rest goes on; for a
    delivery that is ordered or promised, its arrival; for what is done, its actual start.
    `without` is what that date would be if the driver were not there, None if there is no other
    bound. It is `start` where another bound gives the same date.
    """

    activity: str
    start: datetime
    bounds: tuple[Bound, ...]
    driver: Bound
    without: datetime | None


def explain(network: Network, schedule: Schedule, id: str) -> Explanation:
    """Every bound on an activity's early start, which one sets it, and what would without it.

    `schedule` is what `compute` gave for `network`. Instants are to the minute. The dates of all
    others are taken as they are; only where a `most` holds it back is all computed once more
    without that, because others may hang on it, and another `most` may take its place.

    Raises KeyError if there is no activity of this id, ValueError if the schedule is another's.

    >>> from datetime import datetime
    >>> from server.core.schedule import Activity, Calendar, Dependency, Kind, Network, compute
    >>> site = Calendar.week({day: [("07:00", "15:30")] for day in range(5)})
    >>> network = Network(
    ...     [Activity("coat", 510), Activity("dries", 2880, "clock", Kind.WAIT),
    ...      Activity("next", 60)],
    ...     [Dependency("coat", "dries"), Dependency("dries", "next")],
    ...     {"site": site, "clock": Calendar.always()}, start=datetime(2025, 12, 5, 7))  # a Friday
    >>> why = explain(network, compute(network), "next")
    >>> why.driver.at, why.start, why.without
    (datetime.datetime(2025, 12, 7, 15, 30), datetime.datetime(2025, 12, 8, 7, 0), \
datetime.datetime(2025, 12, 5, 7, 0))
    """
    if schedule.plan.network is not network:
        raise ValueError("the schedule is of another network")
    bounds = _bounds(schedule, id)
    driver, *others = bounds
    without = max((b.start for b in others), default=None)
    if driver.kind == "most":
        without = _bounds(compute(_freed(network, driver.dependency)), id)[0].start
    return Explanation(id, driver.start, bounds, driver, without)


def _bounds(schedule: Schedule, id: str) -> tuple[Bound, ...]:
    """Every bound on an activity: the driver, then the others, the latest first."""
    i = schedule.plan.index[id]
    found = schedule.drivers.bounds(i)
    driver = max(found, key=lambda bound: bound.instant)
    others = [_bound(schedule, i, one) for one in found if one is not driver]
    return _bound(schedule, i, driver), *sorted(others, key=lambda b: b.start, reverse=True)


def _freed(network: Network, d: Dependency | None) -> Network:
    """The same without the `most` of a dependency."""
    freed = [replace(one, most=None) if one is d else one for one in network.dependencies]
    return replace(network, dependencies=freed)


def _bound(schedule: Schedule, i: int, found: Found) -> Bound:
    plan = schedule.plan
    k = found.dependency
    return Bound(
        kind=found.kind,
        at=moment_of(found.instant if found.finish is None else found.finish),
        on_finish=found.finish is not None,
        start=moment_of(_alone(schedule, i, found)),
        dependency=None if k is None else plan.network.dependencies[k],
    )


def _alone(schedule: Schedule, i: int, found: Found) -> int:
    """Where the activity would be if this bound were the only one."""
    plan = schedule.plan
    rule, work = plan.rules[i], plan.work[i]
    if plan.done[i] and i in plan.facts:
        return found.instant
    if isinstance(rule, Arrival):
        return found.instant
    if found.finish is None:
        return rule.forward(found.instant, NEVER, work)[1]
    return rule.forward(found.instant, found.finish, work)[1]
