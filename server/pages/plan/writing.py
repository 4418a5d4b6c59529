"""Times, numbers and part lists as they stand in a form, and read from it again."""

import re
from collections.abc import Iterable
from fractions import Fraction

from server.core.measure import read
from server.core.refusals import Refusal
from server.pages.kit.forms import CLOCK_DAY, DAY, BadField, Form, read_span

MOST_PART = 200


def span_written(minutes: int | None, day: int = DAY) -> str:
    """Minutes as a form takes them; `day` is 480 for working time, 1440 for the clock.

    >>> span_written(480), span_written(720), span_written(90), span_written(2160, 1440)
    ('1 d', '1 1/2 d', '1 1/2 h', '36 h')
    """
    if minutes is None:
        return ""
    for size, sign in ((day, "d"), (60, "h")):
        if minutes % size == 0 and minutes:
            return f"{minutes // size} {sign}"
        if sign == "d" and day == CLOCK_DAY:
            continue
        if minutes % size == size // 2:
            whole = minutes // size
            return f"{whole} 1/2 {sign}" if whole else f"1/2 {sign}"
    return f"{minutes} min"


def read_between(form: Form, name: str, day: int) -> int:
    """A wait between, which may run backward ("-2 h"); a refusal is kept in the form."""
    typed = form.typed(name).strip()
    if not typed:
        return 0
    try:
        minutes = read_span(typed.lstrip("-–").strip(), name, day)
    except Refusal as refusal:
        form.refuse(refusal)
        return 0
    return -minutes if typed[0] in "-–" else minutes


def between_written(minutes: int, day: int) -> str:
    """A wait between as a form takes it; nothing where there is none."""
    if not minutes:
        return ""
    return ("-" if minutes < 0 else "") + span_written(abs(minutes), day)


def number_written(value: Fraction | None) -> str:
    """A number as it is typed: a fraction of an inch as such, others with a point.

    >>> number_written(Fraction(577, 16)), number_written(Fraction("8.3")), number_written(None)
    ('36 1/16', '8.3', '')
    """
    if value is None:
        return ""
    sign, value = ("-" if value < 0 else ""), abs(value)
    if value.denominator == 1:
        return f"{sign}{value.numerator}"
    decimals = next((n for n in range(1, 5) if (value * 10**n).denominator == 1), None)
    if decimals is not None and value.denominator not in (2, 4, 8, 16):
        return f"{sign}{float(value):.{decimals}f}"
    whole, rest = divmod(value.numerator, value.denominator)
    return f"{sign}{whole} " * bool(whole) + f"{sign * (not whole)}{rest}/{value.denominator}"


def read_number(form: Form, name: str, unit: str, near: Fraction | None = None) -> Fraction | None:
    """A number of a unit, or None where nothing stands; a refusal is kept in the form."""
    typed = form.typed(name).strip()
    if not typed:
        return None
    try:
        return read(typed, unit, near=near, field=name)
    except Refusal as refusal:
        form.refuse(refusal)
        return None


def read_parts(form: Form, name: str) -> tuple[int, ...]:
    """Part numbers written as "1-3, 5"; a refusal is kept in the form.

    >>> read_parts(Form({"parts": ("1-3, 5",)}), "parts")
    (1, 2, 3, 5)
    """
    found: list[int] = []
    typed = form.typed(name).strip()
    for piece in re.split(r"[,;]", typed) if typed else ():
        span = re.fullmatch(r"\s*(\d{1,3})\s*(?:(?:-|–|to)\s*(\d{1,3}))?\s*", piece)
        first, last = (int(span[1]), int(span[2] or span[1])) if span else (1, 0)
        if not 1 <= first <= last <= MOST_PART:
            form.refuse(BadField("plan_form.parts", field=name, typed=typed[:40]))
            return ()
        found.extend(range(first, last + 1))
    return tuple(dict.fromkeys(found))


def parts_written(parts: Iterable[int]) -> str:
    """Part numbers as they are typed.

    >>> parts_written((1, 2, 3, 5))
    '1-3, 5'
    """
    runs: list[list[int]] = []
    for part in sorted(parts):
        if runs and part == runs[-1][1] + 1:
            runs[-1][1] = part
        else:
            runs.append([part, part])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in runs)
