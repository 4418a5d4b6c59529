"""The moisture of a wait over its days: as planned, with the readings that came in.

The plan is a chalk line, hatched from the quickest to the slowest; what the check asks for is a
string, hatched above, where it is not dry yet. A reading is a tick on a thin line. What cures has
no such line: its days are a rule, hatched for as long as it is kept damp.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.drawing.finish_scale import LEFT, LINE, SIZE, WIDTH, lettered, wide_of
from server.drawing.notes import spread
from server.drawing.svg import Box, element, joined, number, path

Point = tuple[float, float]
"""A day, and the moisture then."""

_HIGH = 120.0
_GAP = 7.0
_EDGE = 6.0
_TICK = 4.5
_RULE = 12.0  # the height of the rule of days
_HATCH = Markup(
    '<pattern id="dd-plan" width="6" height="6" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(32)"><path d="M1 0v6" stroke="currentColor" stroke-width=".6"'
    ' opacity=".6"/></pattern>'
)


@dataclass(frozen=True)
class WaitDrawn:
    """A wait: its days as (label, day) in their order, and what is known of its moisture.

    `planned`, `quick` and `slow` are lines of moisture from day 0 on, empty for what cures. `asked`
    is the moisture that it ends with, `damp` the days that it is kept damp.
    """

    marks: tuple[tuple[str, float], ...]
    planned: tuple[Point, ...] = ()
    quick: tuple[Point, ...] = ()
    slow: tuple[Point, ...] = ()
    readings: tuple[Point, ...] = ()
    asked: float | None = None
    damp: float = 0.0


@dataclass(frozen=True)
class WaitWords:
    """The words of the drawing: `value` writes a moisture; the others name what they stand at."""

    title: str
    desc: str
    value: Callable[[float], str]
    asked: str
    damp: str
    first_day: str


class _Room:
    """Where days and moistures stand."""

    def __init__(self, wait: WaitDrawn, words: WaitWords) -> None:
        lines = (wait.planned, wait.quick, wait.slow, wait.readings)
        self.last = max((day for line in lines for day, _ in line), default=0.0)
        self.last = max(self.last, wait.damp, *(day for _, day in wait.marks), 1.0)
        values = [value for line in lines for _, value in line]
        self.highest = max((*values, wait.asked or 0.0))
        beside = [text for text, _, _ in _beside_rows(wait, words)]
        gutter = max((wide_of(text, bold=True) for text in beside), default=0.0)
        self.right = WIDTH - (_GAP + gutter if beside else LEFT) - 2

    def x(self, day: float) -> float:
        """Where a day stands."""
        return LEFT + (self.right - LEFT) * day / self.last

    def y(self, value: float) -> float:
        """The height of a moisture; bone dry is at the foot."""
        return _HIGH - (_HIGH * value / self.highest if self.highest else 0.0)


def drying_days(wait: WaitDrawn, words: WaitWords) -> Markup:
    """The drawing, 320 units wide."""
    room = _Room(wait, words)
    has_lines = bool(wait.planned or wait.readings)
    foot = _HIGH if has_lines else 0.0
    axis, deep = _axis(wait, words, room, foot)
    body = (
        *([_HATCH, _fan(wait, room)] if wait.quick and wait.slow else []),
        *([_plan(wait, room)] if wait.planned else []),
        *([_asked(wait.asked, room)] if wait.asked is not None and has_lines else []),
        _readings(wait, room),
        _beside(wait, words, room),
        _damp(wait, words, room, foot),
        axis,
    )
    top = -LINE if has_lines else -4.0
    if wait.damp:
        top = min(top, foot - _RULE - LINE - 6)
    return element(
        "svg", element("title", words.title), element("desc", words.desc), *body, class_="fl",
        role="img", viewBox=f"0 {number(top)} {number(WIDTH)} {number(deep - top + 3)}",
        font_size=SIZE,
    )  # fmt: skip


def _along(points: Sequence[Point], room: _Room) -> str:
    return "L".join(f"{number(room.x(day))} {number(room.y(value))}" for day, value in points)


def _fan(wait: WaitDrawn, room: _Room) -> Markup:
    """From the quickest the plan allows for to the slowest."""
    d = f"M{_along(wait.quick, room)}L{_along(wait.slow[::-1], room)}Z"
    return path(d, fill="url(#dd-plan)")


def _plan(wait: WaitDrawn, room: _Room) -> Markup:
    d = "M" + _along(wait.planned, room)
    return path(d, class_="fl-dust") + path(d, class_="fl-chalk dd-plan")


def _asked(asked: float, room: _Room) -> Markup:
    """What the check asks for: a string, hatched where it is wetter than that."""
    y, x, strokes = room.y(asked), LEFT + _EDGE, ""
    while x <= room.right:
        strokes += f"M{number(x)} {number(y)}l{number(-_EDGE)} {number(-_EDGE)}"
        x += 9
    string = path(f"M{number(LEFT)} {number(y)}H{number(room.right)}", class_="fl-string")
    return path(strokes, class_="fl-axis") + string


def _readings(wait: WaitDrawn, room: _Room) -> Markup:
    if not wait.readings:
        return Markup()
    ticks = "".join(
        f"M{number(room.x(day))} {number(room.y(value) - _TICK)}v{number(2 * _TICK)}"
        for day, value in wait.readings
    )
    line = path("M" + _along(wait.readings, room), class_="fl-tick")
    day, value = wait.readings[-1]
    lead = f"M{number(room.x(day) + 3)} {number(room.y(value))}H{number(room.right + _GAP - 3)}"
    line += path(lead, class_="fl-axis", stroke_dasharray="1 4")
    return line + path(ticks, class_="bu-ink dd-read")


def _beside_rows(wait: WaitDrawn, words: WaitWords) -> list[tuple[str, float, str]]:
    """What stands to the right: text, moisture, how it is lettered."""
    rows = []
    if wait.asked is not None and (wait.planned or wait.readings):
        rows.append((words.asked, wait.asked, "fl-soft"))
    if wait.readings:
        rows.append((words.value(wait.readings[-1][1]), wait.readings[-1][1], "fl-no"))
    return rows


def _beside(wait: WaitDrawn, words: WaitWords, room: _Room) -> Markup:
    rows = sorted(_beside_rows(wait, words), key=lambda row: -row[1])
    middles = spread([room.y(value) for _, value, _ in rows], LINE + 1, -WIDTH)
    x = room.right + _GAP
    return joined(
        lettered(text, x, Box(x, y - LINE / 2, wide_of(text, bold=True), LINE), class_=kind)
        for y, (text, _, kind) in zip(middles, rows, strict=True)
    )


def _damp(wait: WaitDrawn, words: WaitWords, room: _Room, foot: float) -> Markup:
    """For as long as it is kept damp the rule is hatched, and says so."""
    if not wait.damp:
        return Markup()
    box = Box(LEFT, foot - _RULE, room.x(wait.damp) - LEFT, _RULE)
    strokes, x = "", box.x + 3
    while x + 4 <= box.right:
        strokes += f"M{number(x)} {number(box.bottom)}l4 {number(-_RULE)}"
        x += 6
    edge = f"M{number(box.x)} {number(foot)}v{number(-_RULE)}H{number(box.right)}v{number(_RULE)}"
    said = lettered(words.damp, LEFT, Box(LEFT, box.y - LINE - 2, wide_of(words.damp), LINE))
    return path(strokes, class_="fl-tick") + path(edge, class_="fl-string") + said


def _axis(wait: WaitDrawn, words: WaitWords, room: _Room, top: float) -> tuple[Markup, float]:
    """The days, each mark in a line of its own where it would touch the one before."""
    d = f"M{number(LEFT)} {number(top)}H{number(room.right)}"
    texts: list[Markup] = []
    taken: list[Box] = []
    for text, day in ((words.first_day, 0.0), *wait.marks):
        x, wide = room.x(day), wide_of(text)
        middle = min(max(x, wide / 2 + 1), WIDTH - wide / 2 - 1)
        box = Box(middle - wide / 2 - 4, top + 6, wide + 8, LINE)
        while any(box.touches(other) for other in taken):
            box = Box(box.x, box.y + LINE + 1, box.w, box.h)
        taken.append(box)
        texts.append(lettered(text, middle, box))
        d += f"M{number(x)} {number(top)}V{number(box.y)}"
    days = element("g", joined(texts), class_="fl-soft", text_anchor="middle")
    deep = max(box.bottom for box in taken)
    return path(d, class_="fl-axis") + days, deep
