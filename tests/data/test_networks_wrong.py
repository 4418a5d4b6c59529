"""A network's file that cannot be read; each mistake names its line and field."""

import pytest

from tests.data.a_network import changed, mistake_in


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"work": 960', '"wrok": 960', "line 16, activities[0].wrok: is no field here"),
        ('"work": 960, ', "", "line 16, activities[0].work: is missing"),
        ('"start": "2025-12-04T07:00",', "", "line 1, start: is missing"),
        ('"work": 960', '"work": "960"', 'line 16, activities[0].work: "960" is no whole number'),
        ('"work": 960', '"work": true', "line 16, activities[0].work: true is no whole number"),
        ('"work": 960', '"work": null', "line 16, activities[0].work: null is no whole number"),
        ('"work": 960', '"work": 1.5', "line 16, activities[0].work: 1.5 is no whole number"),
        ('"work": 960', '"work": NaN', "line 16, activities[0].work: NaN is no number"),
        (": 0.1", ": -Infinity", "line 20, activities[2].reject: -Infinity is no number"),
        (": 0.1", ": 1e999", "line 20, activities[2].reject: is too large a number"),
        (": 0.1", ": false", "line 20, activities[2].reject: false is no number"),
        (
            ": 1440,\n",
            ": 9999999999,\n",
            "line 19, activities[2].notice: 9999999999 is above 1000000000",
        ),
        (": 1440,\n", f": {'9' * 5000},\n", "line 19, activities[2].notice: is too long a number"),
        (
            '"framers": 2',
            '"framers": []',
            "line 16, activities[0].crews.framers: a list is no whole number",
        ),
        ('{"framers": 2}', "3", "line 16, activities[0].crews: 3 is no object"),
        (
            '"wait"',
            '"wiat"',
            'line 17, activities[1].kind: "wiat" is none of '
            "'task', 'wait', 'hold', 'delivery' or 'decision'",
        ),
        (
            '"SS"',
            '"ss"',
            "line 24, dependencies[1].type: \"ss\" is none of 'FS', 'SS', 'FF' or 'SF'",
        ),
        (
            '"lag_on": "work"',
            '"lag_on": 1',
            "line 25, dependencies[1].lag_on: 1 is none of 'clock' or 'work'",
        ),
        (
            '"work": 60',
            '"work": 60, "one_day": 1',
            "line 18, activities[2].one_day: 1 is neither true nor false",
        ),
        ('"id": "look"', '"id": 7', "line 18, activities[2].id: 7 is no text"),
        (
            '{"before": "frame", "after": "cure"}',
            '"frame"',
            'line 23, dependencies[0]: "frame" is no object',
        ),
    ],
)
def test_a_wrong_field_is_named_with_its_line(old: str, new: str, said: str) -> None:
    assert mistake_in(changed(old, new)) == f"network.json, {said}"


@pytest.mark.parametrize(
    ("date", "why"),
    [
        ('"2025-02-29T07:00"', "is on no calendar or clock"),
        ('"2025-12-01T24:00"', "is on no calendar or clock"),
        ('"0000-12-01T07:00"', "is on no calendar or clock"),
        ('"2025-12-01"', "is no date and time, like 2025-12-01T07:00"),
        ('"2025-12-01 07:00"', "is no date and time, like 2025-12-01T07:00"),
        ('"2025-12-01T07:00Z"', "is no date and time, like 2025-12-01T07:00"),
        ('"2025-12-01T07:00+01:00"', "is no date and time, like 2025-12-01T07:00"),
        ("1764572400", "is no date and time, like 2025-12-01T07:00"),
        ("null", "is no date and time, like 2025-12-01T07:00"),
    ],
)
def test_a_start_on_no_calendar_is_named_with_its_line(date: str, why: str) -> None:
    said = mistake_in(changed('"2025-12-04T07:00"', date))
    assert said == f"network.json, line 2, start: {date} {why}"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            '"0": [["07:00"',
            '"0": [["7:00"',
            "line 7, calendars.site.week.0[0]: <schedule.bad_time>",
        ),
        (
            '"0": [["07:00"',
            '"0": [["12:00"',
            "line 7, calendars.site.week.0[0]: <schedule.shift_ends_first>",
        ),
        (
            '"4": [["07:00", "12:00"]',
            '"4": [["07:00", "13:00"]',
            "line 8, calendars.site.week.4: <schedule.shifts_overlap>",
        ),
        (
            '[["08:00", "12:00"]]',
            '[["08:00", "25:00"]]',
            "line 11, calendars.site.extra.2025-12-06[0]: <schedule.bad_time>",
        ),
        (
            '["08:00", "12:00"]',
            '["08:00"]',
            "line 11, calendars.site.extra.2025-12-06[0]: has to hold 2, not 1",
        ),
        (
            '["08:00", "12:00"]',
            '["08:00", 12]',
            "line 11, calendars.site.extra.2025-12-06[0][1]: 12 is no text",
        ),
        (
            '"4": ',
            '"7": ',
            'line 8, calendars.site.week.7: "7" is no weekday, from 0 (Monday) to 6 (Sunday)',
        ),
        (
            '"2025-12-25"',
            '"2025-11-31"',
            'line 10, calendars.site.closed[0]: "2025-11-31" is on no calendar',
        ),
        ('"2025-12-25"', "25", "line 10, calendars.site.closed[0]: 25 is no date, like 2025-12-25"),
        (
            '"2025-12-06"',
            '"Dec 6"',
            'line 11, calendars.site.extra["Dec 6"]: "Dec 6" is no date, like 2025-12-25',
        ),
        ('"always"', '{"week": {}}', "line 13, calendars.clock.week: <schedule.empty_week>"),
        (
            '"always"',
            '"never"',
            'line 13, calendars.clock: "never" is no calendar: an object or "always"',
        ),
        ('"always"', "{}", "line 13, calendars.clock.week: is missing"),
        (
            '"always"',
            '{"week": {"6": [["07:00", "08:00"]]}}',
            "line 4, calendars.joint.both: <schedule.empty_week>",
        ),
        (
            '["site", "clock"]',
            '["site", "crew"]',
            'line 4, calendars.joint.both[1]: "crew" is not here',
        ),
        ('["site", "clock"]', '["site"]', "line 4, calendars.joint.both: has to hold 2, not 1"),
        (
            '["site", "clock"]',
            '["site", "joint"]',
            'line 4, calendars.joint.both: joins itself: "joint", "joint"',
        ),
    ],
)
def test_a_wrong_calendar_is_named_with_its_line(old: str, new: str, said: str) -> None:
    assert mistake_in(changed(old, new)) == f"network.json, {said}"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "line 1, column 1: is no JSON: expecting value"),
        ('{"start": nil}', "line 1, column 11: is no JSON: expecting value"),
        ('{\n "start": "2025}', "line 2, column 11: is no JSON: unterminated string starting"),
        ('{\n "start" "2025"}', "line 2, column 10: is no JSON: a : is expected"),
        ('{\n "start": 1\n "status": 2}', "line 3, column 2: is no JSON: a , is expected"),
        ("{\n start: 1}", "line 2, column 2: is no JSON: a name in double quotes is expected"),
        ("{}\n{}", "line 2, column 1: is no JSON: there is more after its end"),
        ("[" * 100_000, "line 1, column 34: is nested deeper than 32 levels"),
        ('{"a":' * 100_000, "line 1, column 166: is nested deeper than 32 levels"),
        ('{"start": "\\ud800"}', "line 1, start: holds half a character"),
        (b'{\n "start": "\xff"}', "line 2, byte 12: is not UTF-8"),
        ("[]", "line 1, the file: a list is no object"),
        ('{"start": 1,\n "start": 2}', "line 2, start: stands here twice"),
        ('{"a": [{"b": 1,\n "b": 2}]}', "line 2, a[0].b: stands here twice"),
        ('{"1\\n2": 3}', 'line 1, ["1\\n2"]: is no field here'),
    ],
)
def test_a_file_that_cannot_be_read_says_where_it_is_wrong(text: str | bytes, said: str) -> None:
    assert mistake_in(text) == f"network.json, {said}"


def test_a_mistake_stays_on_one_line_and_is_cut_short() -> None:
    said = mistake_in(changed('"wait"', f'"\u2028{"w" * 500}"'))
    assert len(said.splitlines()) == 1
    assert len(said) < 250
