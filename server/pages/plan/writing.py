"""Times, numbers and part lists as they stand in a form, and read from it again."""

from collections.abc import Iterable
from fractions import Fraction

from server.core.measure import read
from server.core.refusals import Refusal
from server.pages.kit.forms import CLOCK_DAY, DAY, Form, read_span
from server.pages.plan.parts_said import parts_of


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


def read_parts(form: Form, name: str, of: int = 0, part: str = "") -> tuple[int, ...]:
    """Part numbers in plain words, of a layer that has `of` parts called `part`; empty for all.

    Numbers count from the bearing end: No. 1 is the bottom. A refusal is kept in the form.

    >>> read_parts(Form({"parts": ("1-3, 5",)}), "parts")
    (1, 2, 3, 5)
    >>> read_parts(Form({"parts": ("all but the bottom bay",)}), "parts", 6, "bay")
    (2, 3, 4, 5, 6)
    """
    try:
        return parts_of(form.typed(name).strip(), name, of, part)
    except Refusal as refusal:
        form.refuse(refusal)
        return ()


def parts_written(parts: Iterable[int], of: int = 0) -> str:
    """Part numbers as they are typed; shorter by those that are missing, where `of` is known.

    >>> parts_written((1, 2, 3, 5)), parts_written((2, 3, 4, 5, 6), 6)
    ('1-3, 5', 'all but 1')
    """
    numbers = sorted(set(parts))
    missing = sorted({*range(1, of + 1)} - {*numbers})
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    if numbers and of and not missing:
        return "all"
    few = len(missing) == 1 or (len(missing) == 2 and len(runs) > 1)
    if few and len(numbers) > len(missing) + 1:
        return "all but " + parts_written(missing)
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in runs)
