"""A stack of tolerances: each part as a bar to scale, and the gap that is left, many times larger.

Bars follow one another as the parts do: one that adds runs to the right, one that takes away runs
back, and what is left at the end is the gap. Beside each bar stands what its tolerance does to
the gap, all at one scale of their own. Below is the gap at a scale of its own.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.core.figures.stack import PartOfGap, Range, StackFigure
from server.drawing.finish_scale import LEFT, LINE, SIZE, WIDTH
from server.drawing.svg import Box, element, joined, number, path, rect
from server.drawing.text import width_of, wrapped

_BARS = 190.0  # where the room for bars ends
_MIDDLE = 262.0  # of what tolerances do to the gap
_REACH = 44.0
_BAR = 10.0
_STRONG = "sb-strong"
_EDGE = 6.0  # how deep the ends of the wanted range are hatched


@dataclass(frozen=True)
class StackWords:
    """The words of the drawing, in the reader's language.

    `title` says the whole to those who do not see it. `part` writes what a part measures,
    `tolerance` what stands beside it (or that it is measured), `gap` is the name of what is left.
    `wanted` (empty where nothing is), `worst`, `rss` and `before` name the ranges and write them;
    `touching` stands where the gap is 0.
    """

    title: str
    part: Callable[[PartOfGap], str]
    tolerance: Callable[[PartOfGap], str]
    gap: str
    wanted: str
    worst: str
    rss: str
    before: str
    touching: str


def stack_bars(figure: StackFigure, words: StackWords) -> Markup:
    """The drawing of a stack, 320 units wide."""
    bars, foot = _bars(figure, words)
    gap, foot = _gap(figure, words, foot + 14)
    return element(
        "svg",
        element("title", words.title),
        bars,
        gap,
        class_="fig sb",
        role="img",
        viewBox=f"0 0 {number(WIDTH)} {number(foot + 4)}",
        font_size=SIZE,
    )


# -- the parts ---------------------------------------------------------------------------------


def _bars(figure: StackFigure, words: StackWords) -> tuple[Markup, float]:
    ends = [0.0]
    for part in figure.parts:
        ends.append(ends[-1] + part.gives)
    least, most = min(ends), max(ends)
    scale = (_BARS - LEFT) / (most - least) if most > least else 0.0
    widest = max((_most_of(part) for part in figure.parts), default=0.0)
    drawn, y, joints = [], 4.0, ""
    for index, part in enumerate(figure.parts):
        top, y = y, y + _heading_height(part, words)
        drawn.append(_heading(part, words, top, eats_most=index in figure.eat_most))
        from_x, to_x = (LEFT + (end - least) * scale for end in ends[index : index + 2])
        drawn.append(_bar(from_x, to_x, y, adds=part.gives >= 0))
        drawn.append(_does(part, y + _BAR / 2, _REACH / widest if widest else 0.0))
        joints += f"M{number(to_x)} {number(y + _BAR)}V{number(y + _BAR + 24)}"
        y += _BAR + 8
    start = LEFT - least * scale
    left = LEFT + (ends[-1] - least) * scale
    middle = path(f"M{number(_MIDDLE)} 6V{number(y)}", class_="fg-thin", stroke_dasharray="2 3")
    gap = path(f"M{number(start)} {number(y + 6)}H{number(left)}", class_="fg-ink sb-gap")
    name = _on_paper(words.gap, LEFT, y + 10, _STRONG)
    origin = path(f"M{number(start)} 6V{number(y + 10)}", class_="fg-thin")
    joined_up = path(joints, class_="fg-thin")
    return middle + origin + joined_up + joined(drawn) + gap + name, y + 10 + LINE


def _most_of(part: PartOfGap) -> float:
    return max(part.range.high - part.gives, part.gives - part.range.low)


def _names(part: PartOfGap, words: StackWords) -> tuple[str, ...]:
    value = words.part(part).replace(" ", "\u00a0")  # a value stays on one line
    return wrapped(f"{part.part.name} {value}", _BARS + 6, SIZE)


def _heading_height(part: PartOfGap, words: StackWords) -> float:
    return LINE * len(_names(part, words)) + 3


def _heading(part: PartOfGap, words: StackWords, top: float, *, eats_most: bool) -> Markup:
    named = [
        _on_paper(line, LEFT, top + LINE * no, "") for no, line in enumerate(_names(part, words))
    ]
    said = words.tolerance(part)
    kind = _STRONG if eats_most else "fg-soft"
    x = _MIDDLE - width_of(said, SIZE, bold=eats_most) / 2
    return joined(named) + _on_paper(said, x, top, kind)


def _bar(from_x: float, to_x: float, y: float, *, adds: bool) -> Markup:
    """A bar with a point on the end that it runs to; one that takes away is hatched."""
    left, right = sorted((from_x, to_x))
    point = min(5.0, right - left) * (1 if adds else -1)
    neck = number(to_x - point)
    d = (
        f"M{number(from_x)} {number(y)}H{neck}L{number(to_x)} {number(y + _BAR / 2)}"
        f"L{neck} {number(y + _BAR)}H{number(from_x)}z"
    )
    body = path(d, class_="fg-line fg-sheet sb-bar")
    if adds:
        return body
    strokes, x = "", left + 4
    while x < right - 4:
        strokes += f"M{number(x)} {number(y + _BAR)}l5 {number(-_BAR)}"
        x += 7
    return body + path(strokes, class_="fg-thin")


def _does(part: PartOfGap, y: float, scale: float) -> Markup:
    """What a part does to the gap: a line from its least to its most, or a dot where measured."""
    low = _MIDDLE + (part.range.low - part.gives) * scale
    high = _MIDDLE + (part.range.high - part.gives) * scale
    if high - low < 0.05:
        return element("circle", cx=_MIDDLE, cy=y, r=3, class_="bu-dot")
    return _reaching(low, high, y, "fg-line sb-does")


def _reaching(left: float, right: float, y: float, kind: str) -> Markup:
    """A line with an upright at each end."""
    up = f"{number(y - 5)}v10"
    d = f"M{number(left)} {up}M{number(right)} {up}M{number(left)} {number(y)}H{number(right)}"
    return path(d, class_=kind)


# -- the gap -----------------------------------------------------------------------------------


def _gap(figure: StackFigure, words: StackWords, top: float) -> tuple[Markup, float]:
    """The ranges of the gap, one below the other at one scale, with the wanted one through all."""
    rows: list[tuple[str, Range, str]] = []
    if figure.narrowed:
        rows.append((words.before, figure.planned_worst, "fg-thin"))
    rows += [(words.worst, figure.worst, "fg-ink"), (words.rss, figure.rss, "fg-line")]
    place = _scale(figure, [one for _, one, _ in rows])
    lines = _wanted_lines(figure, place)
    drawn, y = [], top
    if words.wanted:
        said, y = _said(words.wanted, y, "fg-soft")
        drawn.append(said)
        y += 4
    first = y
    for text, reach, kind in rows:
        said, y = _said(text, y, _STRONG if kind == "fg-ink" else "fg-soft")
        drawn.append(said)
        y += 10
        drawn.append(_reaching(place(reach.low), place(reach.high), y, kind))
        drawn += _beyond(figure, reach, place, y)
        y += 12
    foot, zero = y, place(0.0)
    if LEFT <= zero <= WIDTH - LEFT:
        drawn.insert(0, path(f"M{number(zero)} {number(first)}V{number(foot)}", class_="fg-thin"))
        drawn.append(_touching(words.touching, zero, foot))
        foot += LINE + 2
    edges = [_wanted_edge(x, first, y, side) for x, side in lines]
    return joined(edges) + joined(drawn), foot


def _beyond(
    figure: StackFigure, reach: Range, place: Callable[[float], float], y: float
) -> list[Markup]:
    """What of a range lies beyond the wanted one, inked again in red lead."""
    stack, pieces = figure.stack, []
    if stack.least is not None and reach.low < stack.least:
        pieces.append((reach.low, min(stack.least, reach.high)))
    if stack.most is not None and reach.high > stack.most:
        pieces.append((max(stack.most, reach.low), reach.high))
    return [
        path(f"M{number(place(low))} {number(y)}H{number(place(high))}", class_="fg-wrong")
        for low, high in pieces
    ]


def _scale(figure: StackFigure, reaches: Sequence[Range]) -> Callable[[float], float]:
    """From a gap to where it stands; the wanted range and all that is predicted have room."""
    ends = [end for one in reaches for end in (one.low, one.high)]
    ends += [end for end in (figure.stack.least, figure.stack.most) if end is not None]
    least, most = min(ends), max(ends)
    room = WIDTH - 2 * LEFT - 2 * _EDGE
    scale = room / (most - least) if most > least else 0.0
    start = LEFT + _EDGE if scale else WIDTH / 2
    return lambda gap: start + (gap - least) * scale


def _wanted_lines(figure: StackFigure, place: Callable[[float], float]) -> list[tuple[float, int]]:
    """Where the wanted range ends, and to which side of it lies what is not wanted."""
    ends = ((figure.stack.least, -1), (figure.stack.most, 1))
    return [(place(end), side) for end, side in ends if end is not None]


def _wanted_edge(x: float, top: float, foot: float, side: int) -> Markup:
    """A line, and short strokes on the side where the gap is not wanted."""
    strokes, y = "", top
    while y < foot:
        strokes += f"M{number(x)} {number(y)}l{number(side * _EDGE)} {number(_EDGE)}"
        y += 9
    line = path(f"M{number(x)} {number(top)}V{number(foot)}", class_="fg-line sb-wanted")
    return path(strokes, class_="fg-thin") + line


def _said(text: str, y: float, kind: str) -> tuple[Markup, float]:
    """Words in as many lines as they take, and where they end."""
    drawn = []
    for line in wrapped(text, WIDTH - 2 * LEFT - _EDGE - 8, SIZE, bold=kind == _STRONG):
        drawn.append(_on_paper(line, LEFT + _EDGE + 8, y, kind))
        y += LINE
    return joined(drawn), y


def _on_paper(text: str, x: float, y: float, kind: str) -> Markup:
    """A line of words on a strip of paper, so that no line runs through it."""
    strip = rect(Box(x - 2, y, width_of(text, SIZE, bold=True) + 4, LINE), class_="k-ground")
    weight = 700 if kind == _STRONG else None
    return strip + element("text", text, x=x, y=y + 11, class_=kind or None, font_weight=weight)


def _touching(text: str, x: float, y: float) -> Markup:
    wide = width_of(text, SIZE)
    left = min(max(LEFT, x - wide / 2), WIDTH - LEFT - wide)
    return element("text", text, x=left, y=y + 11, class_="fg-soft")
