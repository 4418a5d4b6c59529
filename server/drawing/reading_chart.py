"""The readings of one place over the last two weeks, and between which limits they are wanted.

Each reading is a pencil tick on a thin line, as on a stud; one beyond a limit is a ring. A limit is
a line with hatching on its far side, as where ground begins.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction

from markupsafe import Markup

from server.drawing.finish_scale import LEFT, LINE, SIZE, WIDTH, lettered, wide_of
from server.drawing.notes import spread
from server.drawing.svg import Box, element, joined, number, path

DAYS = 14
_HIGH = 84.0  # of the room for readings
_GAP = 8.0  # between the last day and the words beside it
_EDGE = 7.0  # how deep a limit is hatched
_RING = 4.0
_TICK = 4.5
_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Taken:
    """One reading."""

    at: datetime
    value: Fraction


@dataclass(frozen=True)
class Wanted:
    """Between which limits readings are wanted, both included; None where there is no limit."""

    low: Fraction | None
    high: Fraction | None

    def holds(self, value: Fraction) -> bool:
        """Whether a value is as it is wanted."""
        low = self.low is None or value >= self.low
        return low and (self.high is None or value <= self.high)


@dataclass(frozen=True)
class ChartWords:
    """The words of the drawing, in the reader's language.

    `title` says the whole to those who do not see it; `value` writes a reading with its unit,
    `least` and `most` a limit, `day` a date of the axis.
    """

    title: str
    value: Callable[[Fraction], str]
    least: Callable[[Fraction], str]
    most: Callable[[Fraction], str]
    day: Callable[[date], str]


class _Room:
    """Where days and values stand; `right` is the end of the last day."""

    def __init__(self, taken: Sequence[Taken], wanted: Wanted, last: date, gutter: float) -> None:
        self.first = datetime.combine(last - (DAYS - 1) * _DAY, time(0))
        self.right = WIDTH - gutter
        limits = [limit for limit in (wanted.low, wanted.high) if limit is not None]
        values = [*(one.value for one in taken), *limits]
        self._most, least = max(values), min(values)
        self._down = _HIGH / float(self._most - least) if self._most > least else 0.0

    def x(self, at: datetime) -> float:
        """Where a moment stands."""
        return LEFT + (self.right - LEFT) * ((at - self.first) / (DAYS * _DAY))

    def y(self, value: Fraction) -> float:
        """The height of a value; the highest of all is at 0."""
        return float(self._most - value) * self._down


def reading_chart(
    readings: Sequence[Taken], wanted: Wanted, last: date, words: ChartWords
) -> Markup:
    """The drawing, 320 units wide, of the two weeks that end with the day `last`.

    Empty where nothing was read in them.
    """
    days = range((last - (DAYS - 1) * _DAY).toordinal(), last.toordinal() + 1)
    taken = sorted((r for r in readings if r.at.toordinal() in days), key=lambda r: r.at)
    if not taken:
        return Markup()
    beside = [words.value(taken[-1].value), *(text for _, text in _limits(wanted, words))]
    room = _Room(taken, wanted, last, _GAP + max(wide_of(text, bold=True) for text in beside) + 1)
    right, texts = _beside(room, taken[-1], wanted, words)
    named = _farthest(room, taken, wanted, words)
    heights = [*right, *([named[1].y, named[1].bottom] if named else [])]
    top = min(-_EDGE, *heights) - 3
    foot = max(_HIGH if room.y(taken[0].value) or len(taken) > 1 else 0, *heights) + _EDGE + 3
    return element(
        "svg",
        element("title", words.title),
        *(_edge(room, limit, above) for limit, above in _edges(wanted)),
        _line(room, taken),
        _marks(room, taken, wanted),
        *([named[0]] if named else []),
        texts,
        _axis(room, last, words, foot),
        class_="fl",
        role="img",
        viewBox=" ".join(number(edge) for edge in (0, top, WIDTH, foot + LINE + 9 - top)),
        font_size=SIZE,
    )


def _edges(wanted: Wanted) -> list[tuple[Fraction, bool]]:
    """The limits, and whether the hatch is above each."""
    found = [(wanted.high, True), (wanted.low, False)]
    return [(limit, above) for limit, above in found if limit is not None]


def _limits(wanted: Wanted, words: ChartWords) -> list[tuple[Fraction, str]]:
    """The limits and what stands beside each, the highest first."""
    return [
        (limit, words.most(limit) if above else words.least(limit))
        for limit, above in _edges(wanted)
    ]


def _edge(room: _Room, limit: Fraction, above: bool) -> Markup:
    """A limit: a line, and short strokes on the side where no reading is wanted."""
    y, strokes = room.y(limit), ""
    x = LEFT + _EDGE
    while x <= room.right:
        strokes += f"M{number(x)} {number(y)}l{number(-_EDGE)} {number(-_EDGE if above else _EDGE)}"
        x += 9
    line = path(f"M{number(LEFT)} {number(y)}H{number(room.right)}", class_="fl-string")
    return path(strokes, class_="fl-axis rc-edge") + line


def _line(room: _Room, taken: Sequence[Taken]) -> Markup:
    """From reading to reading, and on to the words beside the last."""
    corners = [f"{number(room.x(one.at))} {number(room.y(one.value))}" for one in taken]
    last = path(
        f"M{corners[-1]}H{number(room.right + _GAP - 3)}",
        class_="fl-axis rc-last",
        stroke_dasharray="1 4",
    )
    return path("M" + "L".join(corners), class_="fl-tick rc-line") + last


def _marks(room: _Room, taken: Sequence[Taken], wanted: Wanted) -> Markup:
    ticks, rings = "", []
    for one in taken:
        x, y = room.x(one.at), room.y(one.value)
        if wanted.holds(one.value):
            ticks += f"M{number(x)} {number(y - _TICK)}v{number(2 * _TICK)}"
        else:
            rings.append(element("circle", cx=x, cy=y, r=_RING, class_="fl-chalk rc-out"))
    return (path(ticks, class_="fl-chalk rc-in") if ticks else Markup()) + joined(rings)


def _beside(
    room: _Room, last: Taken, wanted: Wanted, words: ChartWords
) -> tuple[list[float], Markup]:
    """To the right the newest reading and the limits, each as near its height as there is room."""
    rows = [(room.y(limit), text, "fl-soft") for limit, text in _limits(wanted, words)]
    rows.append((room.y(last.value), words.value(last.value), "fl-now"))
    rows.sort(key=lambda row: row[0])
    middles = spread([y for y, _, _ in rows], LINE + 1, -WIDTH)
    x, texts = room.right + _GAP, []
    for y, (_, text, kind) in zip(middles, rows, strict=True):
        box = Box(x, y - LINE / 2, wide_of(text, bold=True), LINE)
        texts.append(lettered(text, x, box, class_=kind))
    return [middles[0] - LINE / 2, middles[-1] + LINE / 2], joined(texts)


def _farthest(
    room: _Room, taken: Sequence[Taken], wanted: Wanted, words: ChartWords
) -> tuple[Markup, Box] | None:
    """What the reading says that lies farthest beyond a limit; the newest has its words already."""
    out = [(_off(one.value, wanted), one) for one in taken if not wanted.holds(one.value)]
    if not out:
        return None
    _, one = max(out, key=lambda pair: pair[0])
    if one.value == taken[-1].value:
        return None
    over = wanted.high is not None and one.value > wanted.high
    text = words.value(one.value)
    wide = wide_of(text, bold=True)
    x = min(max(room.x(one.at), LEFT + wide / 2), room.right - wide / 2)
    # clear of its ring, and of the hatch that begins at the limit
    limit = room.y(wanted.high if over and wanted.high is not None else wanted.low or one.value)
    y = room.y(one.value)
    y = min(y - _RING, limit - _EDGE) - LINE if over else max(y + _RING, limit + _EDGE)
    box = Box(x - wide / 2, y, wide, LINE)
    return element("g", lettered(text, x, box, class_="fl-now"), text_anchor="middle"), box


def _off(value: Fraction, wanted: Wanted) -> Fraction:
    """How far beyond its limit a value lies."""
    low = wanted.low - value if wanted.low is not None else Fraction(0)
    high = value - wanted.high if wanted.high is not None else Fraction(0)
    return max(low, high, Fraction(0))


def _axis(room: _Room, last: date, words: ChartWords, top: float) -> Markup:
    """The first day, the middle one and the last, where each begins."""
    d, texts = f"M{number(LEFT)} {number(top)}H{number(room.right)}", []
    for back in (DAYS - 1, DAYS // 2 - 1, 0):
        day = last - back * _DAY
        x, text = room.x(datetime.combine(day, time(0))), words.day(day)
        wide = wide_of(text)
        middle = max(x, wide / 2 + 1)
        texts.append(lettered(text, middle, Box(middle - wide / 2, top + 5, wide, LINE)))
        d += f"M{number(x)} {number(top)}v4"
    days = element("g", joined(texts), class_="fl-soft", text_anchor="middle")
    return path(d, class_="fl-axis") + days
