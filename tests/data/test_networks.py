"""A network's file, read; what the core refuses in it is named with its line."""

from dataclasses import fields
from datetime import date, datetime

import pytest

from server.core.schedule import Activity, Calendar, Dependency, Kind, Loop, compute
from tests.data.a_network import GOOD, changed, read, refused_in

SITE = {day: [("07:00", "12:00"), ("12:30", "15:30")] for day in (0, 4)}


def test_what_stands_in_the_file_is_in_the_network_and_the_rest_has_the_defaults_of_the_core() -> (
    None
):
    network = read(GOOD).network
    assert network.start == datetime(2025, 12, 4, 7)
    assert network.status is None
    assert network.activities == [
        Activity("frame", 960, crews={"framers": 2}),
        Activity("cure", 1440, "clock", Kind.WAIT),
        Activity("look", 60, "joint", Kind.HOLD, notice=1440, reject=0.1),
    ]
    assert network.dependencies == [
        Dependency("frame", "cure"),
        Dependency("cure", "look", "SS", 30, "work", 9000),
    ]


def test_a_calendar_has_its_week_its_closed_days_and_its_extra_ones() -> None:
    calendars = read(GOOD).network.calendars
    site = Calendar.week(SITE, [date(2025, 12, 25)], {date(2025, 12, 6): [("08:00", "12:00")]})
    assert calendars["site"] == site
    assert calendars["clock"] == Calendar.always()


def test_a_joint_calendar_may_stand_before_what_it_joins() -> None:
    calendars = read(GOOD).network.calendars
    assert calendars["joint"] == Calendar.both(calendars["site"], calendars["clock"])


def test_a_joint_calendar_may_join_a_joint_one() -> None:
    text = changed('"clock": "always"', '"clock": "always", "all": {"both": ["joint", "site"]}')
    calendars = read(text).network.calendars
    assert calendars["all"] == Calendar.both(calendars["joint"], calendars["site"])


def test_every_field_of_the_core_can_stand_in_a_file() -> None:
    values = {
        "id": '"frame"', "work": "5", "calendar": '"site"', "kind": '"delivery"', "crews": "{}",
        "one_day": "true", "notice": "1", "remaining": "2", "low": "3", "high": "4",
        "reject": "1", "rework": "6",
    }  # fmt: skip
    moments = dict.fromkeys(
        ("not_before", "finish_by", "called", "ordered", "promised", "started", "finished"),
        '"2025-12-03T09:30"',
    )
    assert {field.name for field in fields(Activity)} == {*values, *moments}
    members = ", ".join(f'"{name}": {value}' for name, value in (values | moments).items())
    text = changed('{"id": "frame", "work": 960, "crews": {"framers": 2}}', f"{{{members}}}")
    then = datetime(2025, 12, 3, 9, 30)
    assert read(text).network.activities[0] == Activity(
        "frame", 5, "site", Kind.DELIVERY, {}, one_day=True, notice=1, remaining=2, low=3, high=4,
        reject=1.0, rework=6, not_before=then, finish_by=then, called=then, ordered=then,
        promised=then, started=then, finished=then,
    )  # fmt: skip


def test_null_is_a_date_that_is_not_there() -> None:
    text = changed('"work": 960', '"work": 960, "started": null')
    assert read(text).network.activities[0].started is None


def test_seconds_are_floored_away() -> None:
    text = changed('"2025-12-04T07:00"', '"2025-12-04T07:00:59.9"')
    assert read(text).network.start == datetime(2025, 12, 4, 7)


def test_a_byte_order_mark_is_passed_over() -> None:
    assert read(b"\xef\xbb\xbf" + GOOD.encode()).network == read(GOOD).network


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"work": 960', '"work": -960', "line 16, activities[0].work: -960: <schedule.negative>"),
        (
            '"calendar": "joint"',
            '"calendar": "jiont"',
            'line 18, activities[2].calendar: "jiont": <schedule.unknown_calendar>',
        ),
        (
            '"id": "look"',
            '"id": "frame"',
            'line 18, activities[2].id: "frame": <schedule.doubled_activity>',
        ),
        (
            '"cure", "after": "look"',
            '"cute", "after": "look"',
            'line 24, dependencies[1].before: "cute": <schedule.unknown_activity>',
        ),
        (
            '"after": "look"',
            '"after": "loop"',
            'line 24, dependencies[1].after: "loop": <schedule.unknown_activity>',
        ),
        (
            '"most": 9000',
            '"most": 3',
            "line 25, dependencies[1].most: 3: <schedule.lag_above_most>",
        ),
        (
            '"work": 960',
            '"work": 960, "remaining": 5',
            "line 16, activities[0].remaining: 5: <schedule.remaining_not_started>",
        ),
        (
            '"work": 960',
            '"work": 960,\n"finished": "2025-12-01T07:00"',
            'line 17, activities[0].finished: "2025-12-01T07:00": <schedule.finished_not_started>',
        ),
        (
            '"work": 960',
            '"work": 960, "one_day": true',
            "line 16, activities[0].one_day: <schedule.no_day_long_enough>",
        ),
        ('"work": 960', '"work": 1000000000', "line 1, the file: <schedule.too_far>"),
    ],
)
def test_what_the_core_refuses_is_named_with_its_line(old: str, new: str, said: str) -> None:
    assert refused_in(changed(old, new)) == f"network.json, {said}"


def test_a_calendar_that_is_only_a_default_has_the_line_of_its_activity() -> None:
    text = GOOD.replace('"site"', '"yard"')
    said = refused_in(text)
    assert (
        said == 'network.json, line 16, activities[0].calendar: "site": <schedule.unknown_calendar>'
    )


def test_of_two_dependencies_between_the_same_two_the_refused_one_is_named() -> None:
    text = changed(
        '{"before": "frame", "after": "cure"}',
        '{"before": "cure", "after": "look", "most": 5},\n{"before": "frame", "after": "cure"}',
    )
    said = refused_in(text.replace('"most": 9000', '"most": 3'))
    assert said == "network.json, line 26, dependencies[2].most: 3: <schedule.lag_above_most>"


def test_a_ring_is_named_whole_at_the_dependency_that_closes_it() -> None:
    text = changed(
        '{"before": "frame", "after": "cure"}',
        '{"before": "look",\n "after": "frame"},\n{"before": "frame", "after": "cure"}',
    )
    said = refused_in(text)
    assert said == (
        'network.json, line 23, dependencies[0]: <schedule.loop> "frame", "cure", "look", "frame"'
    )


def test_a_long_ring_is_cut_short() -> None:
    activities = [f'{{"id": "a{i}", "work": 0, "calendar": "c"}}' for i in range(100)]
    ends = [f'{{"before": "a{i}", "after": "a{(i + 1) % 100}"}}' for i in range(100)]
    given = read(
        '{"start": "2025-12-04T07:00", "calendars": {"c": "always"},'
        f'"activities": [{",".join(activities)}],"dependencies": [{",".join(ends)}]}}'
    )
    with pytest.raises(Loop) as loop:
        compute(given.network)
    said = str(given.bad(loop.value))
    assert said.endswith('"a0", "a1", "a2", "a3", "a4", … (95 more), "a0"')
