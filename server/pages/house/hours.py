"""Hours and days as they are typed into the form of a calendar, and written again."""

import re
from collections.abc import Iterable

from server.pages.kit.forms import BadField, Form

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_CLOCK = re.compile(r"(\d{1,2})(?::(\d\d))?\s*(am|pm)?", re.IGNORECASE)

Hours = tuple[tuple[str, str], ...]


def hours_of(text: str) -> Hours | None:
    """Shifts of a day from "7:00-12:00, 12:30-15:30"; None if they cannot be read.

    >>> hours_of("7-noon, 12:30-3:30 pm")
    (('07:00', '12:00'), ('12:30', '15:30'))
    """
    shifts = []
    for piece in text.split(",") if text.strip() else ():
        ends = [_clock(end) for end in re.split(r"-|–|\bto\b", piece)]
        if len(ends) == 2 and ends[0] and ends[1] and ends[1] <= ends[0]:
            ends[0] = _clock(piece.split("-")[0] + "pm") if "pm" in piece else None
        if len(ends) != 2 or not ends[0] or not ends[1]:
            return None
        shifts.append((ends[0], ends[1]))
    return tuple(shifts)


def hours_written(shifts: Iterable[tuple[str, str]]) -> str:
    """Shifts as they are typed."""
    return ", ".join(f"{a.removeprefix('0')}-{b.removeprefix('0')}" for a, b in shifts)


def read_week(form: Form) -> tuple[str, ...]:
    """The shifts of the week; refusals are kept at their weekday."""
    shifts = []
    for number in range(7):
        name = f"day_{number}"
        typed = form.typed(name)
        found = hours_of(typed)
        if found is None:
            form.refuse(BadField("plan_form.hours", field=name, typed=typed[:60]))
        shifts += [f"{number} {start} {end}" for start, end in found or ()]
    return tuple(shifts)


def _clock(text: str) -> str | None:
    text = text.strip().lower()
    if text == "noon":
        return "12:00"
    found = _CLOCK.fullmatch(text)
    if found is None:
        return None
    hour, minute = int(found[1]), int(found[2] or 0)
    if found[3]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found[3] == "pm" else 0)
    return f"{hour:02}:{minute:02}" if hour < 24 and minute < 60 else None
