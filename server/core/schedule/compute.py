"""From a network to its schedule."""

from server.core.schedule.backward import backward_pass
from server.core.schedule.forward import forward_pass
from server.core.schedule.instants import FIRST, LAST
from server.core.schedule.network import Network
from server.core.schedule.plan import plan_of
from server.core.schedule.refused import Refused
from server.core.schedule.result import Schedule


def compute(network: Network) -> Schedule:
    """Early and late dates, floats, readiness and drivers of every activity.

    Time grows linearly with activities and dependencies; only a `most` that does not hold at once
    takes more sweeps, at most 50 and as many again for each that cannot be kept. Minutes
    throughout; datetimes are made when a date is asked for.

    Raises `Refused` for what no dates can be computed from (unknown or doubled ids, negative
    durations, facts that contradict one another, a lag above its most, dates beyond a thousand
    years) and `Loop` for activities that wait for one another in a ring.

    Source: the critical path method and the precedence diagram with four types of dependency, as
    in Moder, Phillips and Davis, "Project Management with CPM, PERT and Precedence Diagramming",
    3rd ed. 1983 (from memory), with working calendars per activity.

    >>> from datetime import datetime
    >>> from server.core.schedule import Activity, Calendar, Dependency, Kind, Network, compute
    >>> site = Calendar.week({day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)})
    >>> schedule = compute(Network(
    ...     [Activity("frame", 16 * 60), Activity("cure", 24 * 60, "clock", Kind.WAIT),
    ...      Activity("board", 8 * 60)],
    ...     [Dependency("frame", "cure"), Dependency("cure", "board")],
    ...     {"site": site, "clock": Calendar.always()},
    ...     start=datetime(2025, 12, 4, 7)))  # a Thursday
    >>> schedule.finish
    datetime.datetime(2025, 12, 8, 15, 30)
    >>> schedule["cure"].early_finish
    datetime.datetime(2025, 12, 6, 15, 30)
    >>> schedule["cure"].total_float  # Saturday afternoon to Monday morning
    2370
    >>> schedule.critical_path
    ('frame', 'cure', 'board')
    """
    plan = plan_of(network)
    early = forward_pass(plan)
    horizon = max(early.finish, default=plan.start)
    late = backward_pass(plan, early, horizon)
    if horizon > LAST or min(min(early.gate, default=FIRST), min(late.gate, default=FIRST)) < FIRST:
        raise Refused("schedule.too_far")
    return Schedule(plan, early, late, horizon)
