"""What must hold for every network: nothing violated, more work never earlier, time mirrored."""

from dataclasses import replace
from datetime import date, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from server.core.schedule import (
    Activity,
    Calendar,
    Dependency,
    Kind,
    Network,
    Schedule,
    compute,
)

START = datetime(2025, 12, 1, 7)
MIDNIGHT = datetime(2025, 12, 1)  # time is turned round here
CLOSED = {date(2025, 12, 3), date(2025, 12, 8)}
SHIFTS = {
    "site": {day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)},
    "late": {day: [("13:00", "24:00")] for day in (0, 2, 5)},
    "clock": {day: [("00:00", "24:00")] for day in range(7)},
}
CALENDARS = {name: Calendar.week(shifts, CLOSED) for name, shifts in SHIFTS.items()}

every_time_the_same = settings(derandomize=True, max_examples=150, deadline=None, database=None)


@st.composite
def networks(draw: st.DrawFn, types: tuple[str, ...] = ("FS", "SS", "FF", "SF")) -> Network:
    """Up to eight activities and ten dependencies from earlier to later ones."""
    count = draw(st.integers(2, 8))
    activities = [
        Activity(
            f"a{i}",
            draw(st.integers(0, 900)),
            draw(st.sampled_from(sorted(SHIFTS))),
            one_day=draw(st.booleans()) and draw(st.booleans()),
        )
        for i in range(count)
    ]
    activities = [replace(a, work=min(a.work, 300)) if a.one_day else a for a in activities]
    pairs = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1)).filter(
        lambda pair: pair[0] < pair[1]
    )
    dependencies = [
        Dependency(
            f"a{before}",
            f"a{after}",
            draw(st.sampled_from(types)),  # type: ignore[arg-type]
            draw(st.integers(-600, 2000)),
        )
        for before, after in draw(st.lists(pairs, max_size=10))
    ]
    return Network(activities, dependencies, CALENDARS, START)


def ends(d: Dependency, schedule: Schedule, when: str) -> tuple[datetime, datetime]:
    names = {"S": f"{when}_start", "F": f"{when}_finish"}
    before, after = schedule[d.before], schedule[d.after]
    return getattr(before, names[d.type[0]]), getattr(after, names[d.type[1]])


@every_time_the_same
@given(networks())
def test_no_dependency_is_violated_by_early_dates_or_by_late_ones(network: Network) -> None:
    schedule = compute(network)
    for d in network.dependencies:
        for when in ("early", "late"):
            origin, end = ends(d, schedule, when)
            assert end >= origin + timedelta(minutes=d.lag)


@every_time_the_same
@given(networks(("FS", "SS")), st.integers(0, 7), st.integers(1, 3000))
def test_more_work_never_makes_anything_earlier(network: Network, which: int, more: int) -> None:
    # A longer coat could find no day that holds it, which is another rule.
    activities = [replace(a, one_day=False) for a in network.activities]
    network = replace(network, activities=activities)
    before = compute(network)
    longer = activities[which % len(activities)]
    more_work = [replace(a, work=a.work + more) if a is longer else a for a in activities]
    after = compute(replace(network, activities=more_work))
    for id in before:
        assert after[id].early_start >= before[id].early_start
        assert after[id].early_finish >= before[id].early_finish


def mirrored(moment: datetime) -> datetime:
    return MIDNIGHT - (moment - MIDNIGHT)


def mirrored_calendar(name: str) -> Calendar:
    """Sunday for Monday (the midnight is a Monday's), and each day's minutes from behind."""

    def turned(time: str) -> str:
        minutes = 1440 - int(time[:2]) * 60 - int(time[3:])
        return f"{minutes // 60:02}:{minutes % 60:02}"

    week = {
        6 - day: [(turned(end), turned(start)) for start, end in shifts]
        for day, shifts in SHIFTS[name].items()
    }
    return Calendar.week(
        week, {MIDNIGHT.date() - (day - MIDNIGHT.date()) - timedelta(1) for day in CLOSED}
    )


def mirrored_network(network: Network, finish: datetime) -> Network:
    turned = {"FS": "FS", "SS": "FF", "FF": "SS", "SF": "SF"}
    return Network(
        [replace(a, kind=Kind.TASK) for a in network.activities],
        [
            replace(d, before=d.after, after=d.before, type=turned[d.type])  # type: ignore[arg-type]
            for d in network.dependencies
        ],
        {name: mirrored_calendar(name) for name in SHIFTS},
        mirrored(finish),
    )


@every_time_the_same
@given(networks())
def test_the_backward_pass_is_the_forward_pass_of_the_mirrored_network(network: Network) -> None:
    schedule = compute(network)
    back_to_front = compute(mirrored_network(network, schedule.finish))
    for id in schedule:
        assert schedule[id].late_finish == mirrored(back_to_front[id].early_start)
        assert schedule[id].late_start == mirrored(back_to_front[id].early_finish)
