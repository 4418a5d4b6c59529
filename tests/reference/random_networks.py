"""Random small networks with everything that the rules speak of, the same ones every time."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from random import Random

from server.core.schedule import Activity, Calendar, Dependency, Kind, Network
from tests.reference.minute_by_minute import Minutes

ORIGIN = datetime(2025, 9, 1)  # a Monday
START = datetime(2025, 12, 1, 7)
DAYS = 1200

Shifts = dict[int, list[tuple[str, str]]]
WEEKDAYS: dict[str, Shifts] = {
    "site": {day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)},
    "short": {day: [("09:00", "11:00"), ("13:00", "17:00")] for day in (0, 2, 3, 5)},
    "night": {0: [("00:00", "05:00"), ("22:00", "24:00")], 4: [("20:00", "24:00")]},
    "clock": {day: [("00:00", "24:00")] for day in range(7)},
}
CLOSED = {date(2025, 12, 4), date(2025, 12, 25), date(2025, 12, 8)}
EXTRA = {date(2025, 12, 6): [("06:00", "18:00")], date(2025, 12, 8): [("10:00", "12:00")]}

CALENDARS = {
    "site": Calendar.week(WEEKDAYS["site"], CLOSED, EXTRA),
    "short": Calendar.week(WEEKDAYS["short"], CLOSED),
    "night": Calendar.week(WEEKDAYS["night"]),
    "clock": Calendar.always(),
}


def _minutes(shifts: Shifts, closed: set[date], extra: dict[date, list[tuple[str, str]]]) -> bytes:
    works = bytearray(DAYS * 1440)
    for number in range(DAYS):
        day = ORIGIN.date() + timedelta(days=number)
        its_shifts = extra.get(day, [] if day in closed else shifts.get(day.weekday(), []))
        for pair in its_shifts:
            first, last = (number * 1440 + int(t[:2]) * 60 + int(t[3:]) for t in pair)
            works[first:last] = b"\1" * (last - first)
    return bytes(works)


def minutes_of_calendars() -> dict[str, Minutes]:
    """The same calendars for the reference, from the same shifts and not from the core."""
    return {
        "site": Minutes(_minutes(WEEKDAYS["site"], CLOSED, EXTRA)),
        "short": Minutes(_minutes(WEEKDAYS["short"], CLOSED, {})),
        "night": Minutes(_minutes(WEEKDAYS["night"], set(), {})),
        "clock": Minutes(_minutes(WEEKDAYS["clock"], set(), {})),
    }


def minute(moment: datetime) -> int:
    """Minutes since the origin."""
    return int((moment - ORIGIN).total_seconds() // 60)


def moment(minutes: int) -> datetime:
    """The instant so many minutes after the origin."""
    return ORIGIN + timedelta(minutes=minutes)


def a_random_network(seed: int) -> Network:
    """Four to nine activities; a third of the networks have a status in mid-work."""
    random = Random(seed)
    count = random.randint(4, 9)
    status = START + timedelta(minutes=random.randint(0, 6 * 1440)) if seed % 3 == 0 else None
    activities = [_an_activity(random, f"a{i}", status) for i in range(count)]
    dependencies = [
        _a_dependency(random, f"a{before}", f"a{after}")
        for after in range(1, count)
        for before in random.sample(range(after), min(after, random.randint(1, 2)))
    ]
    random.shuffle(dependencies)
    random.shuffle(activities)
    return Network(activities, dependencies, CALENDARS, START, status)


def _an_activity(random: Random, id: str, status: datetime | None) -> Activity:
    kind = random.choice([Kind.TASK, Kind.TASK, Kind.TASK, Kind.WAIT, Kind.HOLD])
    calendar = random.choice(["site", "site", "short", "night", "clock"])
    work = random.choice([0, 1, 60, 240, 480, random.randint(1, 900)])
    one_day = random.random() < 0.2
    if one_day:
        work = min(work, 240)
    not_before = None
    if random.random() < 0.15:
        not_before = START + timedelta(minutes=random.randint(-1440, 5 * 1440))
    started = finished = remaining = called = None
    if status:
        earliest = datetime.combine(START.date(), time(7))
        passed = int((status - earliest).total_seconds() // 60)
        fate = random.random()
        if fate < 0.45:
            started = earliest + timedelta(minutes=random.randint(0, passed))
        if fate < 0.25 and started:
            finished = started + timedelta(
                minutes=random.randint(0, minute(status) - minute(started))
            )
        elif started and random.random() < 0.5:
            remaining = random.choice([0, 30, 300])
        if kind is Kind.HOLD and random.random() < 0.4:
            called = earliest + timedelta(minutes=random.randint(0, passed))
    return Activity(
        id, work, calendar, kind, one_day=one_day, not_before=not_before, started=started,
        finished=finished, remaining=remaining, called=called,
        notice=random.choice([0, 0, 1440]) if kind is Kind.HOLD else 0,
    )  # fmt: skip


def _a_dependency(random: Random, before: str, after: str) -> Dependency:
    kinds: Sequence[tuple[str, float]] = [("FS", 0.5), ("SS", 0.2), ("FF", 0.2), ("SF", 0.1)]
    lag = random.choice([0, 0, 0, 60, 480, 1440, -60, -300, random.randint(-600, 2000)])
    most = lag + random.choice([0, 60, 600, 3000, 6000]) if random.random() < 0.25 else None
    type = random.choices([k for k, _ in kinds], [w for _, w in kinds])[0]
    return Dependency(before, after, type, lag, random.choice(["clock", "work"]), most)  # type: ignore[arg-type]
