"""A network made ready for the passes: numbers instead of ids, minutes instead of datetimes."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from server.core.schedule.checks import check_activity, check_dependency, doubled, find_loop
from server.core.schedule.facts import Begun, begun_of, bounds_of
from server.core.schedule.hours import ClockHours, Hours
from server.core.schedule.instants import Minutes, all_of, minutes_of
from server.core.schedule.network import Activity, Dependency, Kind, Network
from server.core.schedule.refused import Loop, Refused
from server.core.schedule.runs import ClockRun, OneDay, Point, Rule, Run

# What is particular about a dependency.
FROM_START = 1  # it starts from the start of the earlier activity, not the finish
TO_FINISH = 2  # it arrives at the finish of the later one, not the start
WORKING = 4  # its lag counts working minutes
_CODES = {"FS": 0, "SS": FROM_START, "FF": TO_FINISH, "SF": FROM_START | TO_FINISH}


@dataclass(slots=True)
class Plan:
    """One network in numbers. Lists are indexed by activity or by dependency, in the order given.

    `rules` place the activities and hold their hours. `raw` is the latest bound on each start that
    is no dependency. `facts` are the starts that happened; `done` what is finished. `before` is
    the earlier activity of each dependency, `preceding` the dependencies into each activity. Most
    are finish to start without a lag, and the passes are quick about those: only the others have a
    `code`, and what they lead to is `mixed`. `limited` are those with a `most`. `order` has each
    activity after all before it; it is the one given, if that is `in_order`.
    """

    network: Network
    status: int
    start: int
    index: dict[str, int] = field(default_factory=dict)
    rules: list[Rule] = field(default_factory=list)
    work: list[int] = field(default_factory=list)
    raw: Minutes = field(default_factory=lambda: all_of(0, 0))
    facts: dict[int, int] = field(default_factory=dict)
    done: list[bool] = field(default_factory=list)
    finish_by: dict[int, int] = field(default_factory=dict)
    waits: list[int] = field(default_factory=list)
    before: list[int] = field(default_factory=list)
    preceding: list[list[int]] = field(default_factory=list)
    code: dict[int, int] = field(default_factory=dict)
    mixed: set[int] = field(default_factory=set)
    limited: list[int] = field(default_factory=list)
    in_order: bool = True
    order: Sequence[int] = ()

    def after(self, k: int) -> int:
        """The later activity of a dependency."""
        return self.index[self.network.dependencies[k].after]


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
    """The placing rules of one calendar, shared by its activities."""

    def __init__(self, plan: Plan, a: Activity) -> None:
        calendar = plan.network.calendars.get(a.calendar)
        if calendar is None:
            raise Refused(
                "schedule.unknown_calendar",
                field="calendar",
                activity=a.id,
                calendar=a.calendar,
            )
        if calendar.is_always:
            self.run: Run = ClockRun(ClockHours(calendar, plan.start))
        else:
            self.run = Run(Hours(calendar, plan.start))
        self.point = Point(self.run.hours)
        self.one_day = OneDay(self.run)


def _add_activities(plan: Plan) -> None:
    activities = plan.network.activities
    count = len(activities)
    plan.index = {a.id: i for i, a in enumerate(activities)}
    if len(plan.index) < count:
        raise Refused("schedule.doubled_activity", field="id", activity=doubled(activities))
    plan.work = [a.work for a in activities]
    plan.raw = all_of(max(plan.status, plan.start), count)
    plan.done = [False] * count
    calendars: dict[str, _Rules] = {}
    add, task = plan.rules.append, Kind.TASK
    for i, a in enumerate(activities):
        rules = calendars.get(a.calendar)
        if rules is None:
            rules = calendars[a.calendar] = _Rules(plan, a)
        add(rules.run)
        if (
            a.work <= 0
            or a.kind is not task
            or a.not_before is not None
            or a.finish_by is not None
            or a.started is not None
            or a.finished is not None
            or a.remaining is not None
            or a.one_day
            or a.notice
            or a.rework
        ):
            _add_details(plan, i, a, rules)


def _add_details(plan: Plan, i: int, a: Activity, rules: _Rules) -> None:
    """What is particular to an activity: its kind, its dates, what has happened to it."""
    hours = rules.run.hours
    check_activity(a, plan.status, hours.calendar)
    if not a.work:
        plan.rules[i] = rules.point
    elif a.one_day:
        plan.rules[i] = rules.one_day
    plan.raw[i] = max(instant for instant, _ in bounds_of(a, plan.status, plan.start))
    if a.finish_by is not None:
        plan.finish_by[i] = minutes_of(a.finish_by)
    if a.kind is Kind.WAIT:
        plan.waits.append(i)
    begun = begun_of(a, hours, plan.status)
    if begun is not None:
        _add_begun(plan, i, begun, rules)


def _add_begun(plan: Plan, i: int, begun: Begun, rules: _Rules) -> None:
    plan.work[i] = begun.left
    plan.rules[i] = begun.rule or (rules.run if begun.left else rules.point)
    plan.done[i] = begun.done
    if begun.bound is not None:
        plan.raw[i] = begun.bound[0]
    if begun.start is not None:
        plan.facts[i] = begun.start


def _add_dependencies(plan: Plan) -> None:
    index, before = plan.index, plan.before
    plan.preceding = preceding = _lists(len(plan.network.activities))
    try:
        for k, d in enumerate(plan.network.dependencies):
            first, last = index[d.before], index[d.after]
            before.append(first)
            preceding[last].append(k)
            if first >= last:
                plan.in_order = False
            if d.lag or d.type != "FS":
                plan.code[k] = _code_of(d)
                plan.mixed.add(last)
            if d.most is not None:
                check_dependency(d)
                plan.limited.append(k)
    except KeyError:
        raise _unknown_end(plan.network.dependencies, index) from None


def _code_of(d: Dependency) -> int:
    if d.type not in _CODES:
        raise Refused("schedule.unknown_type", field="type", before=d.before, after=d.after)
    return _CODES[d.type] | (WORKING if d.lag and d.lag_on == "work" else 0)


def _lists(count: int) -> list[list[int]]:
    return [[] for _ in range(count)]


def _unknown_end(dependencies: Sequence[Dependency], index: dict[str, int]) -> Refused:
    d = next(d for d in dependencies if d.before not in index or d.after not in index)
    field, activity = ("before", d.before) if d.before not in index else ("after", d.after)
    return Refused(
        "schedule.unknown_activity", field=field, activity=activity, before=d.before, after=d.after
    )


def _order(plan: Plan) -> Sequence[int]:
    """Every activity after all that come before it. Raises `Loop` if there is none such."""
    before, preceding = plan.before, plan.preceding
    if plan.in_order:
        return range(len(preceding))
    open_after = [0] * len(preceding)
    for first in before:
        open_after[first] += 1
    order = [i for i, count in enumerate(open_after) if not count]
    for i in order:
        for k in preceding[i]:
            first = before[k]
            open_after[first] -= 1
            if not open_after[first]:
                order.append(first)
    if len(order) < len(preceding):
        stuck = {i for i, count in enumerate(open_after) if count}
        pairs = ((first, plan.after(k)) for k, first in enumerate(before))
        ring = find_loop([(a, b) for a, b in pairs if a in stuck and b in stuck])
        raise Loop(tuple(plan.network.activities[i].id for i in ring))
    order.reverse()
    return order
