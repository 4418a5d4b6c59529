"""Worked examples of the critical path method as published, on a calendar that is always open.

Sources:

- "Example 1: draw the network for the events in Table 1", studylib.net/doc/8378728, with its
  tables of early and late dates (in hours).
- Bernard W. Taylor III, "Introduction to Management Science", chapter 8, problem solutions as at
  scribd.com/doc/47113515: the network of 13 activities between 9 events, with its printed table.
- "Network Construction: Critical Path Method", a course module of 14 activities that adds up each
  of its five paths, as kept in the collection Nemotron-CC-Math-v1 (huggingface.co).
"""

from datetime import datetime, timedelta

from server.core.schedule import Activity, Calendar, Dependency, Network, Schedule, compute

START = datetime(2025, 12, 1)
Rows = list[tuple[str, int, str]]


def in_hours(rows: Rows) -> Schedule:
    """Rows of name, hours and the names before."""
    return compute(
        Network(
            [Activity(name, hours * 60, "clock") for name, hours, _ in rows],
            [Dependency(b, name) for name, _, before in rows for b in before.split()],
            {"clock": Calendar.always()},
            START,
        )
    )


def hours(moment: datetime) -> int:
    return (moment - START) // timedelta(hours=1)


def table(schedule: Schedule) -> dict[str, tuple[int, ...]]:
    """ES, EF, LS, LF and total float of each, in hours."""
    return {
        name: (
            hours(dates.early_start),
            hours(dates.early_finish),
            hours(dates.late_start),
            hours(dates.late_finish),
            dates.total_float // 60,
        )
        for name, dates in schedule.items()
    }


def test_the_prototype_of_seven_activities() -> None:
    schedule = in_hours(
        [
            ("A", 6, ""),
            ("B", 2, "A"),
            ("C", 2, "A"),
            ("D", 3, "B"),
            ("F", 2, "C"),
            ("E", 4, "D F"),
            ("G", 1, "E"),
        ]
    )
    assert table(schedule) == {
        "A": (0, 6, 0, 6, 0),
        "B": (6, 8, 6, 8, 0),
        "D": (8, 11, 8, 11, 0),
        "E": (11, 15, 11, 15, 0),
        "G": (15, 16, 15, 16, 0),
        "C": (6, 8, 7, 9, 1),
        "F": (8, 10, 9, 11, 1),
    }
    assert schedule.critical_path == ("A", "B", "D", "E", "G")


def test_thirteen_activities_between_nine_events() -> None:
    printed = {
        "1-2": (8, 0, 8, 1, 9, 1),
        "1-3": (10, 0, 10, 0, 10, 0),
        "1-4": (9, 0, 9, 6, 15, 6),
        "2-5": (6, 8, 14, 9, 15, 1),
        "2-6": (4, 8, 12, 16, 20, 8),
        "3-5": (5, 10, 15, 10, 15, 0),
        "4-5": (0, 9, 9, 15, 15, 6),
        "4-7": (7, 9, 16, 20, 27, 11),
        "5-7": (12, 15, 27, 15, 27, 0),
        "5-8": (15, 15, 30, 16, 31, 1),
        "6-9": (18, 12, 30, 20, 38, 8),
        "7-8": (4, 27, 31, 27, 31, 0),
        "8-9": (7, 31, 38, 31, 38, 0),
    }
    rows = [
        (name, row[0], " ".join(other for other in printed if other[-1] == name[0]))
        for name, row in printed.items()
    ]
    schedule = in_hours(rows)
    assert table(schedule) == {name: row[1:] for name, row in printed.items()}
    assert schedule.critical_path == ("1-3", "3-5", "5-7", "7-8", "8-9")


def test_fourteen_activities_and_the_length_of_each_path() -> None:
    schedule = in_hours(
        [
            ("A", 2, ""),
            ("B", 10, "A"),
            ("C", 13, "A"),
            ("D", 12, "A"),
            ("E", 12, "B"),
            ("F", 7, "B"),
            ("G", 10, "D"),
            ("H", 16, "D"),
            ("I", 6, "F"),
            ("J", 12, "C G"),
            ("K", 5, "I"),
            ("L", 8, "E K"),
            ("M", 5, "H"),
            ("N", 3, "J L M"),
        ]
    )
    assert hours(schedule.finish) == 41
    assert schedule.critical_path == tuple("ABFIKLN")
    # The total float of what lies on one path alone is what that path lacks of the longest one.
    floats = {name: dates.total_float // 60 for name, dates in schedule.items()}
    assert floats["E"] == 41 - 35
    assert floats["C"] == 41 - 30
    assert floats["G"] == 41 - 39
    assert floats["H"] == floats["M"] == 41 - 38
