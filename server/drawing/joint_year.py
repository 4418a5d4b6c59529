"""A joint through the year: the wood's edge, month under month, beside what stands still.

Seen as one looks at the joint on the wall, with time running down instead of the wall: wood on the
left, the face beside it on the right, the joint white between them. Its least and most are strings
with a hatch on the side where it must not be. Widths are to one scale, many times full size.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.drawing.finish_scale import LINE, SIZE, WIDTH, lettered, wide_of
from server.drawing.hatches import fill_of
from server.drawing.svg import Box, element, joined, number, path, rect

MONTHS = 12
_LEFT = 40.0  # room for the names of the months
_WOOD = 22.0  # the least of the wood that is drawn
_ROW = 16.0
_FACE = 14.0  # how wide the face beside the joint is drawn
_GAP = 7.0
_EDGE = 6.0
_RING = 4.0
_GRAIN = {
    # Across the grain its lines run along the joint, as they do in the piece; on end, toward it.
    "flat": '<path d="M3.5 0q-3 12 0 23t0 23M10.5 0q3 10 0 23t0 23M7 8q1.6 7 0 14"/>',
    "quarter": '<path d="M2 0v46M5.5 0v46M9 0v46M12.5 0v46"/>',
    "along": '<path d="M0 4q3-2 7 0t7 0M0 15q3 2 7 0t7 0M0 27q4-2 7 0t7 0M0 38q3 2 7 0t7 0"/>',
}


@dataclass(frozen=True)
class JointDrawn:
    """The width of each month, what it may be, and the width it is fitted at, in one unit.

    `still` is the material beside the wood; `grain` how the wood lies ("flat", "quarter", "along").
    """

    widths: tuple[float, ...]
    least: float
    most: float
    fitted: float
    still: str = "plaster"
    grain: str = "flat"


@dataclass(frozen=True)
class JointWords:
    """The words of the drawing. `width` writes a width; `months` are the twelve short names."""

    title: str
    desc: str
    months: Sequence[str]
    width: Callable[[float], str]
    least: str
    most: str
    fitted: str


class _Scale:
    """Where a width stands: from the face leftward."""

    def __init__(self, joint: JointDrawn, words: JointWords) -> None:
        widest = max(*joint.widths, joint.most, joint.fitted, 1e-9)
        beside = max(wide_of(words.width(width), bold=True) for width in joint.widths)
        self.face = WIDTH - beside - _GAP - _FACE - 2
        self._times = (self.face - _LEFT - _WOOD) / widest

    def x(self, width: float) -> float:
        """Where the wood's edge is when the joint is so wide; below 0 it presses on the face."""
        return self.face - max(width, 0.0) * self._times


def joint_year(joint: JointDrawn, words: JointWords) -> Markup:
    """The drawing, 320 units wide. It refers to the patterns of `hatch_defs()`."""
    scale = _Scale(joint, words)
    head = 2 * LINE + 6
    foot = head + MONTHS * _ROW
    body = (
        _wood(joint, scale, head, foot),
        _face(joint, scale, head, foot),
        _limit(scale.x(joint.most), head, foot, leftward=True),
        _limit(scale.x(joint.least), head, foot, leftward=False),
        _fitted(scale.x(joint.fitted), head, foot),
        _marks(joint, scale, head),
        _named(scale.x(joint.most), words.most, 0.0),
        _named(scale.x(joint.least), words.least, LINE),
        _named(scale.x(joint.fitted), words.fitted, foot + 5, "fl-now"),
        _months(words, head),
        _widths(joint, words, scale, head),
    )
    return element(
        "svg", element("title", words.title), element("desc", words.desc), *body, class_="fl",
        role="img", viewBox=f"0 0 {number(WIDTH)} {number(foot + LINE + 9)}", font_size=SIZE,
    )  # fmt: skip


def _y(head: float, month: int) -> float:
    """The middle of a month's row."""
    return head + (month + 0.5) * _ROW


def _wood(joint: JointDrawn, scale: _Scale, head: float, foot: float) -> Markup:
    """The wood, whose right edge goes from month to month; the year begins as it ends."""
    turn = scale.x((joint.widths[0] + joint.widths[-1]) / 2)
    edge = [(turn, head)]
    edge += [(scale.x(width), _y(head, n)) for n, width in enumerate(joint.widths)]
    edge.append((turn, foot))
    along = "L".join(f"{number(x)} {number(y)}" for x, y in edge)
    closed = f"M{number(_LEFT)} {number(head)}L{along}H{number(_LEFT)}Z"
    return (
        _grain(joint.grain)
        + path(closed, class_="bu-sheet")
        + path(closed, fill="url(#jy-grain)", class_="jy-wood")
        + path(f"M{along}", class_="bu-ink jy-edge")
    )


def _grain(grain: str) -> Markup:
    return Markup(
        '<pattern id="jy-grain" width="14" height="46" patternUnits="userSpaceOnUse">'
        f'<g fill="none" stroke="currentColor" stroke-width=".9">{_GRAIN[grain]}</g></pattern>'
    )


def _face(joint: JointDrawn, scale: _Scale, head: float, foot: float) -> Markup:
    box = Box(scale.face, head, _FACE, foot - head)
    line = f"M{number(box.x)} {number(head)}V{number(foot)}"
    return rect(box, fill=fill_of(joint.still) or "none") + path(line, class_="bu-ink")


def _limit(x: float, head: float, foot: float, *, leftward: bool) -> Markup:
    """A string down the year, and short strokes on the side where the edge must not be."""
    away, strokes, y = (-_EDGE if leftward else _EDGE), "", head + 2
    while y + _EDGE <= foot:
        strokes += f"M{number(x)} {number(y)}l{number(away)} {number(_EDGE)}"
        y += 9
    string = path(f"M{number(x)} {number(head - 3)}V{number(foot)}", class_="fl-string")
    return path(strokes, class_="fl-axis") + string


def _fitted(x: float, head: float, foot: float) -> Markup:
    d = f"M{number(x)} {number(head)}V{number(foot + 4)}"
    return path(d, class_="fl-chalk", stroke_dasharray="1 5")


def _marks(joint: JointDrawn, scale: _Scale, head: float) -> Markup:
    """A ring round each month in which the joint is not between its least and most."""
    slack = 1e-9 * max(1.0, joint.most)
    return joined(
        element("circle", cx=scale.x(width), cy=_y(head, n), r=_RING, class_="fl-chalk jy-out")
        for n, width in enumerate(joint.widths)
        if not joint.least - slack <= width <= joint.most + slack
    )


def _named(x: float, text: str, top: float, class_: str = "fl-soft") -> Markup:
    """A line of words above or under its string, within the drawing."""
    wide = wide_of(text, bold=True)
    middle = min(max(x, wide / 2 + 1), WIDTH - wide / 2 - 1)
    box = Box(middle - wide / 2, top, wide, LINE)
    return element("g", lettered(text, middle, box, class_=class_), text_anchor="middle")


def _months(words: JointWords, head: float) -> Markup:
    texts = (
        lettered(name, 0, Box(0, _y(head, n) - LINE / 2, _LEFT, LINE))
        for n, name in enumerate(words.months)
    )
    return element("g", joined(texts), class_="fl-soft")


def _widths(joint: JointDrawn, words: JointWords, scale: _Scale, head: float) -> Markup:
    """The width of each month; the widest and the narrowest bold."""
    ends = {joint.widths.index(max(joint.widths)), joint.widths.index(min(joint.widths))}
    x = scale.face + _FACE + _GAP
    texts = []
    for n, width in enumerate(joint.widths):
        box = Box(x, _y(head, n) - LINE / 2, 0, LINE)
        texts.append(lettered(words.width(width), x, box, class_="fl-no" if n in ends else None))
    return joined(texts)
