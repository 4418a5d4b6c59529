"""Winders in plan, to scale: both sides, the walkline, every nosing, and three depths."""

import math
from dataclasses import dataclass

from markupsafe import Markup

from server.drawing.dimension import SIZE, Point, label, line, sheet
from server.drawing.svg import element, joined, number, path

WIDTH, _EDGE = 320.0, 8.0
_TALLEST = 300.0


@dataclass(frozen=True)
class TurnWords:
    """The words and printed values: depths at the three radii, and how far the whole turns."""

    title: str
    narrow: str
    walkline: str
    wide: str
    each: str


@dataclass(frozen=True)
class Turn:
    """What is drawn: radii in any one unit, the whole turn in degrees."""

    narrow: float
    walkline: float
    wide: float
    turn: float
    count: int


def turn_drawing(turn: Turn, words: TurnWords) -> Markup:
    """The turn with its first nosing level, winding up and to the left."""
    box = _box(turn)
    wide, high = box[2] - box[0], box[3] - box[1]
    per_unit = min((WIDTH - 2 * _EDGE) / wide, _TALLEST / high)
    center = (_EDGE - box[0] * per_unit, _EDGE + box[3] * per_unit)

    def at(radius: float, degrees: float) -> Point:
        angle = math.radians(degrees)
        return (
            center[0] + radius * per_unit * math.cos(angle),
            center[1] - radius * per_unit * math.sin(angle),
        )

    def arc(radius: float, class_: str) -> Markup:
        # In pieces of at most a third of the way around: an arc of SVG cannot go further than half.
        pieces = max(1, math.ceil(turn.turn / 120))
        start, size = at(radius, 0), number(radius * per_unit)
        d = f"M{number(start[0])} {number(start[1])}"
        for no in range(1, pieces + 1):
            x, y = at(radius, turn.turn * no / pieces)
            d += f"A{size} {size} 0 0 0 {number(x)} {number(y)}"
        return path(d, class_=class_)

    nosings = (turn.turn * no / turn.count for no in range(turn.count + 1))
    parts = [
        *(line((at(turn.narrow, one), at(turn.wide, one)), "fg-line") for one in nosings),
        arc(turn.walkline, "fg-center"),
        arc(turn.wide, "fg-ink"),
    ]
    if turn.narrow > 0:
        parts.append(arc(turn.narrow, "fg-ink"))
    parts.append(element("circle", cx=center[0], cy=center[1], r=2, class_="fg-tick"))
    foot = _EDGE * 2 + high * per_unit
    said = (words.wide, words.walkline, words.narrow, words.each)
    texts = [label(text, _EDGE, foot + (no + 1) * SIZE * 1.3) for no, text in enumerate(said)]
    height = foot + SIZE * 1.3 * len(said) + _EDGE
    return sheet(WIDTH, height, words.title, joined(parts), joined(texts))


def _box(turn: Turn) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of the turn and its center, the center at 0."""
    angles = [0.0, turn.turn, *(a for a in range(90, 721, 90) if a < turn.turn)]
    points = [
        (radius * math.cos(math.radians(a)), radius * math.sin(math.radians(a)))
        for a in angles
        for radius in (turn.narrow, turn.wide)
    ]
    xs, ys = [0.0, *(x for x, _ in points)], [0.0, *(y for _, y in points)]
    return min(xs), min(ys), max(xs), max(ys)
