"""How long something takes, as one cell says it: the time, then what is likely."""

import re

from server.core.changes.plan import ActivityFacts
from server.pages.kit.forms import read_span
from server.pages.plan.activity_form import day_of
from server.pages.plan.writing import span_written

_RANGE = re.compile(r"(?:(?P<work>[^,]+),\s*)?(?P<low>.+?)\s+to\s+(?P<high>.+)", re.IGNORECASE)
_LIMIT = re.compile(r"(?P<work>[^,]+),\s*at (?P<which>least|most)\s+(?P<limit>.+)", re.IGNORECASE)


def takes_written(facts: ActivityFacts) -> str:
    """How long it takes as a cell says it: the time, then what is likely."""
    day = day_of(facts.kind)
    work, low, high = (span_written(m, day) for m in (facts.work or None, facts.low, facts.high))
    if low and high:
        return f"{work}, {low} to {high}"
    if low or high:
        return f"{work}, at {'least' if low else 'most'} {low or high}"
    return work


def read_takes(text: str, day: int) -> tuple[int, int | None, int | None]:
    """Minutes, at least, at most, from "2 d", "2 d, 1 d to 3 d", "1 to 3 d" or "2 d, at most 3 d".

    Of a range alone the middle is what it takes.

    >>> read_takes("1 to 3 d", 480), read_takes("4 h, at most 1 d", 480)
    ((960, 480, 1440), (240, None, 480))
    """
    text = text.strip()
    if not text:
        return 0, None, None
    if found := _LIMIT.fullmatch(text):
        limit = read_span(found["limit"].strip(), "takes", day)
        low, high = (limit, None) if found["which"].lower() == "least" else (None, limit)
        return read_span(found["work"].strip(), "takes", day), low, high
    if found := _RANGE.fullmatch(text):
        high_text = found["high"].strip()
        low_text = found["low"].strip()
        if not re.search(r"[a-z]", low_text, re.IGNORECASE):
            low_text += " " + re.sub(r"^[\d\s./½-]+", "", high_text)
        least, most = (read_span(t, "takes", day) for t in (low_text, high_text))
        work = found["work"]
        middle = (least + most) // 2
        return read_span(work.strip(), "takes", day) if work else middle, least, most
    return read_span(text, "takes", day), None, None
