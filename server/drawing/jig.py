"""An arc over its chord with its ordinates, and an easing between the rake and level: to scale."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.drawing.dimension import (
    SIZE,
    Point,
    along,
    extension,
    label,
    line,
    plumb,
    sheet,
    widest,
)
from server.drawing.svg import number, path

WIDTH, _EDGE = 320.0, 8.0
_TALLEST = 240.0


@dataclass(frozen=True)
class JigWords:
    """The words and printed values."""

    title: str
    chord: str
    rise: str
    radius: str


@dataclass(frozen=True)
class EasingWords:
    """The words and printed values."""

    title: str
    tangent: str
    radius: str
    pitch: str


def jig_drawing(
    radius: float, chord: float, rise: float, ordinates: Sequence[Point], words: JigWords
) -> Markup:
    """The whole arc; `ordinates` (along, off) go from the middle to one end and are mirrored."""
    room = widest((words.rise,)) + 18
    per_unit = min((WIDTH - 2 * _EDGE - room) / chord, _TALLEST / rise)
    half = chord / 2 * per_unit
    middle, foot = _EDGE + half, _EDGE * 2 + SIZE + rise * per_unit

    def at(x: float, y: float) -> Point:
        return middle + x * per_unit, foot - y * per_unit

    size = number(radius * per_unit)
    (x1, y1), (x2, y2) = at(-chord / 2, 0), at(chord / 2, 0)
    arc = f"M{number(x1)} {number(y1)}A{size} {size} 0 0 1 {number(x2)} {number(y2)}"
    uprights = (
        extension((at(side * x, 0), at(side * x, off)))
        for x, off in ordinates
        for side in (1, -1)
        if off > 0 and (x > 0 or side > 0)
    )
    beyond = x2 + 12
    return sheet(
        WIDTH,
        foot + SIZE * 2 + 24,
        words.title,
        *uprights,
        line(((x1, y1), (x2, y2)), "fg-line"),
        path(arc, class_="fg-ink"),
        extension((at(0, rise), (beyond + 4, at(0, rise)[1]))),
        extension(((x2, y2), (beyond + 4, y2))),
        plumb(beyond, at(0, rise)[1], y2, (words.rise,), bold=True),
        along(x1, x2, foot + 18, words.chord, below=True),
        label(words.radius, middle, _EDGE + SIZE * 0.7, anchor="middle"),
    )


def easing_drawing(radius: float, pitch: float, words: EasingWords) -> Markup:
    """The easing with as much of the rake and of the level line as its tangents, and more."""
    angle = math.radians(pitch)
    tangent = radius * math.tan(angle / 2)
    reach = tangent * 2
    drop = reach * math.sin(angle)
    per_unit = min((WIDTH - 2 * _EDGE) / (reach + reach * math.cos(angle)), _TALLEST / drop)
    corner = (_EDGE + reach * math.cos(angle) * per_unit, _EDGE + SIZE * 2)

    def at(x: float, y: float) -> Point:
        return corner[0] + x * per_unit, corner[1] - y * per_unit

    low = at(-reach * math.cos(angle), -reach * math.sin(angle))
    on_rake = at(-tangent * math.cos(angle), -tangent * math.sin(angle))
    on_level, end = at(tangent, 0), at(reach, 0)
    size = number(radius * per_unit)
    curve = (
        f"M{number(low[0])} {number(low[1])}L{number(on_rake[0])} {number(on_rake[1])}"
        f"A{size} {size} 0 0 1 {number(on_level[0])} {number(on_level[1])}"
        f"L{number(end[0])} {number(end[1])}"
    )
    foot = low[1] + SIZE * 1.6
    return sheet(
        WIDTH,
        foot + SIZE * 1.4 + _EDGE,
        words.title,
        line((on_rake, corner, on_level), "fg-center"),
        path(curve, class_="fg-ink"),
        along(corner[0], on_level[0], corner[1] - SIZE, words.tangent),
        label(words.radius, _EDGE, foot),
        label(words.pitch, _EDGE, foot + SIZE * 1.3),
    )
