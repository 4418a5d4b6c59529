"""A network made ready for the passes: numbers instead of ids, minutes instead of datetimes."""

from collections.abc import Callable
from dataclasses import dataclass, field

from server.core.schedule.checks import check_activity, check_dependency, find_loop
from server.core.schedule.hours import ClockHours, Hours
from server.core.schedule.instants import FOREVER, NEVER, minutes_of
from server.core.schedule.network import Activity, Dependency, Kind, Network
from server.core.schedule.refused import Loop, Refused
from server.core.schedule.runs import Arrival, Fixed, OneDay, Place, Point, Rule, Run

Placing = Callable[[int, int, int], Place]

# A dependency's code: bit 0, it starts from the start of the earlier activity; bit 1, it arrives
# at the finish of the later one; bit 2, its lag counts working minutes.
FROM_START, TO_FINISH, WORKING = 1, 2, 4
_CODES = {"FS": 0, "SS": FROM_START, "FF": TO_FINISH, "SF": FROM_START | TO_FINISH}

# Why a start is where it is. A dependency is its number; the rest are counted from the number of
# dependencies on, so that of equal bounds the one with the lowest code counts. What happened has
# the lowest of all: only a later bound takes its place.
ACTUAL = -1
NOT_BEFORE, NOTICE, STATUS, START, PROMISED, MOST = range(6)


@dataclass(slots=True)
class Plan:
    """One network in numbers. Lists are indexed by activity or by dependency, in the order given.

    `raw` and `why` are the latest bound on each start that is no dependency, and which it is.
    `facts` are the starts that happened; `done` what is finished; `expected` when deliveries are,
    and why; `limited` the dependencies with a `most`; `order` has each activity after all that
    come before it.
    """

    network: Network
    status: int
    start: int
    index: dict[str, int] = field(default_factory=dict)
    hours: list[Hours] = field(default_factory=list)
    forward: list[Placing] = field(default_factory=list)
    backward: list[Placing] = field(default_factory=list)
    work: list[int] = field(default_factory=list)
    raw: list[int] = field(default_factory=list)
    why: list[int] = field(default_factory=list)
    facts: dict[int, int] = field(default_factory=dict)
    done: list[bool] = field(default_factory=list)
    expected: dict[int, tuple[int, int]] = field(default_factory=dict)
    finish_by: dict[int, int] = field(default_factory=dict)
    waits: list[int] = field(default_factory=list)
    before: list[int] = field(default_factory=list)
    after: list[int] = field(default_factory=list)
    code: list[int] = field(default_factory=list)
    lag: list[int] = field(default_factory=list)
    following: list[list[int]] = field(default_factory=list)
    limited: list[int] = field(default_factory=list)
    order: list[int] = field(default_factory=list)


def plan_of(network: Network) -> Plan:
    """The plan of a network. Raises `Refused` or `Loop`."""
    start = minutes_of(network.start)
    status = start if network.status is None else minutes_of(network.status)
    plan = Plan(network, status, start)
    _add_activities(plan)
    _add_dependencies(plan)
    plan.order = _order(plan)
    return plan


class _Rules:
    """The tables and the placing rules of one calendar, shared by its activities."""

    def __init__(self, plan: Plan, name: str) -> None:
        calendar = plan.network.calendars[name]
        self.hours = (ClockHours if calendar.is_always else Hours)(calendar, plan.start)
        self.run = _both_ways(Run(self.hours))
        self.point = _both_ways(Point(self.hours))
        self.one_day = _both_ways(OneDay(self.hours))


def _both_ways(rule: Rule) -> tuple[Placing, Placing]:
    return rule.forward, rule.backward


def _add_activities(plan: Plan) -> None:
    count = len(plan.network.dependencies)
    status, index = plan.status, plan.index
    # Most activities are held by the status and the start alone, so that is worked out once.
    usual = (status, count + STATUS) if status >= plan.start else (plan.start, count + START)
    calendars: dict[str, _Rules] = {}
    for i, a in enumerate(plan.network.activities):
        if a.id in index:
            raise Refused("schedule.doubled_activity", field="id", activity=a.id)
        index[a.id] = i
        rules = calendars.get(a.calendar)
        if rules is None:
            if a.calendar not in plan.network.calendars:
                raise Refused(
                    "schedule.unknown_calendar",
                    field="calendar", activity=a.id, calendar=a.calendar,
                )  # fmt: skip
            rules = calendars[a.calendar] = _Rules(plan, a.calendar)
        hours, work = rules.hours, a.work
        check_activity(a, status, hours.calendar)
        raw, why = usual
        ways = rules.run if work else rules.point
        if a.one_day and work:
            ways = rules.one_day
        if a.not_before or a.kind is not Kind.TASK:
            raw, why = _latest_bound(plan, a, count)
        if a.started or a.finished or (a.kind is Kind.DELIVERY and (a.ordered or a.promised)):
            work, raw, why, ways = _from_facts(plan, i, a, rules, (raw, why))
        if a.finish_by:
            plan.finish_by[i] = minutes_of(a.finish_by)
        if a.kind is Kind.WAIT:
            plan.waits.append(i)
        plan.hours.append(hours)
        plan.forward.append(ways[0])
        plan.backward.append(ways[1])
        plan.work.append(work)
        plan.raw.append(raw)
        plan.why.append(why)
    plan.done = [a.finished is not None for a in plan.network.activities]


def _latest_bound(plan: Plan, a: Activity, count: int) -> tuple[int, int]:
    """The latest instant that is no dependency before which it may not start, and its code.

    A wait starts by itself, in the past too; a hold point's look needs its notice.
    """
    raw, why = NEVER, count + START
    if a.not_before:
        raw, why = minutes_of(a.not_before), count + NOT_BEFORE
    if a.kind is Kind.HOLD:
        look = (minutes_of(a.called) if a.called else plan.status) + a.notice
        if look > raw and (a.notice or a.called):
            raw, why = look, count + NOTICE
    if a.kind is not Kind.WAIT and plan.status > raw:
        raw, why = plan.status, count + STATUS
    if plan.start > raw:
        raw, why = plan.start, count + START
    return raw, why


def _from_facts(
    plan: Plan, i: int, a: Activity, rules: _Rules, bound: tuple[int, int]
) -> tuple[int, int, int, tuple[Placing, Placing]]:
    """The work left, the latest bound with its code, and the rules of what has begun already."""
    delivery = a.kind is Kind.DELIVERY
    count = len(plan.network.dependencies)
    started = a.started or (a.ordered if delivery else None) or a.finished
    if started:
        plan.facts[i] = minutes_of(started)
    if a.finished:
        fixed = Fixed(plan.facts[i], minutes_of(a.finished))
        return 0, FOREVER, ACTUAL, _both_ways(fixed)
    if delivery and (a.promised or a.remaining is None):
        if a.promised:
            plan.expected[i] = minutes_of(a.promised), count + PROMISED
        else:
            lead_from = rules.hours.worked(plan.facts[i])
            plan.expected[i] = rules.hours.closing(lead_from + a.work), ACTUAL
        arrival = Arrival(rules.hours, plan.expected[i][0], ordered=started is not None)
        return a.work, *((plan.status, count + STATUS) if started else bound), _both_ways(arrival)
    left = a.remaining
    if left is None:
        left = max(0, a.work - rules.hours.worked(plan.status) + rules.hours.worked(plan.facts[i]))
    return left, plan.status, ACTUAL, rules.run if left else rules.point


def _add_dependencies(plan: Plan) -> None:
    index, before, after, code = plan.index, plan.before, plan.after, plan.code
    following: list[list[int]] = [[] for _ in plan.network.activities]
    for k, d in enumerate(plan.network.dependencies):
        try:
            first = index[d.before]
            before.append(first)
            after.append(index[d.after])
        except KeyError:
            raise _unknown_end(d, index) from None
        code.append(_CODES[d.type] + (WORKING if d.lag_on == "work" and d.lag else 0))
        if d.most is not None:
            check_dependency(d)
            plan.limited.append(k)
        following[first].append(k)
    plan.lag = [d.lag for d in plan.network.dependencies]
    plan.following = following


def _unknown_end(d: Dependency, index: dict[str, int]) -> Refused:
    field = "after" if d.before in index else "before"
    return Refused(
        "schedule.unknown_activity",
        field=field, activity=d.after if d.before in index else d.before,
        before=d.before, after=d.after,
    )  # fmt: skip


def _order(plan: Plan) -> list[int]:
    """Every activity after all that come before it. Raises `Loop` if there is none such."""
    after, following = plan.after, plan.following
    open_before = [0] * len(following)
    for last in after:
        open_before[last] += 1
    order = [i for i, count in enumerate(open_before) if not count]
    for i in order:
        for k in following[i]:
            last = after[k]
            open_before[last] -= 1
            if not open_before[last]:
                order.append(last)
    if len(order) < len(following):
        activities = plan.network.activities
        raise Loop(tuple(activities[i].id for i in find_loop(plan.before, after, open_before)))
    return order
