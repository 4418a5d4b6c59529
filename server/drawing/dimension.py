"""Dimension lines as draftsmen write them: a thin line between two oblique ticks, its text beside.

Points are drawing units, `y` downwards; the classes (`fg-…`) are inked by figures.css.
"""

from collections.abc import Iterable, Sequence
from typing import Literal

from markupsafe import Markup

from server.drawing.svg import element, joined, number, path
from server.drawing.text import width_of

SIZE = 13.0
"""Of the letters of a figure, in drawing units."""
_TICK = 3.5
_OVER = 3.0  # how far a line goes past its tick
_CLEAR = 4.0  # between a line and its text

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


def label(
    text: str,
    x: float,
    y: float,
    *,
    anchor: Anchor = "start",
    size: float = SIZE,
    soft: bool = False,
    bold: bool = False,
    class_: str = "",
) -> Markup:
    """A line of text; `y` is where its letters stand."""
    classes = " ".join(part for part in ("fg-soft" if soft else "", class_) if part)
    return element(
        "text",
        text,
        x=x,
        y=y,
        font_size=size,
        text_anchor=None if anchor == "start" else anchor,
        font_weight="700" if bold else None,
        class_=classes or None,
    )


def line(points: Sequence[Point], class_: str, *, closed: bool = False, **more: str) -> Markup:
    """A line through points."""
    d = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + ("Z" if closed else "")
    return path(d, class_=class_, **more)


def along(x1: float, x2: float, y: float, said: str, *, below: bool = False) -> Markup:
    """A level dimension from `x1` to `x2`, its text in the middle, above the line or `below` it."""
    at = y + _CLEAR + SIZE * 0.75 if below else y - _CLEAR
    return joined(
        (
            line(((x1 - _OVER, y), (x2 + _OVER, y)), "fg-dim"),
            _ticks(((x1, y), (x2, y))),
            label(said, (x1 + x2) / 2, at, anchor="middle"),
        )
    )


def plumb(
    x: float, y1: float, y2: float, said: Sequence[str], *, left: bool = False, bold: bool = False
) -> Markup:
    """A plumb dimension from `y1` to `y2`, its lines of text beside the middle, right or `left`."""
    at = x - _CLEAR - _TICK if left else x + _CLEAR + _TICK
    high = SIZE * 1.15
    first = (y1 + y2) / 2 - high * (len(said) - 1) / 2 + SIZE * 0.36
    texts = (
        label(
            text,
            at,
            first + no * high,
            anchor="end" if left else "start",
            soft=no > 0,
            bold=bold and no == 0,
        )
        for no, text in enumerate(said)
    )
    return joined(
        (
            line(((x, min(y1, y2) - _OVER), (x, max(y1, y2) + _OVER)), "fg-dim"),
            _ticks(((x, y1), (x, y2))),
            *texts,
        )
    )


def extension(points: Sequence[Point]) -> Markup:
    """A thin line that carries an edge out to its dimension."""
    return line(points, "fg-thin")


def widest(texts: Iterable[str], size: float = SIZE) -> float:
    """How much room the widest of some texts takes, be it bold or not."""
    return max((width_of(text, size, bold=True) for text in texts), default=0.0)


def sheet(width: float, height: float, title: str, *parts: Markup) -> Markup:
    """A figure's drawing: all its parts, and the title that says it to those who do not see it."""
    return element(
        "svg",
        element("title", title),
        *parts,
        viewBox=f"0 0 {number(width)} {number(height)}",
        class_="fig",
        role="img",
    )


def _ticks(points: Iterable[Point]) -> Markup:
    d = "".join(
        f"M{number(x - _TICK)} {number(y + _TICK)}l{number(2 * _TICK)} {number(-2 * _TICK)}"
        for x, y in points
    )
    return path(d, class_="fg-tick")
