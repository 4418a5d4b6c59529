"""A flight to scale: its finished risers, the rough ones under them, and both ends enlarged."""

from dataclasses import dataclass

from markupsafe import Markup

from server.drawing import flight_ends
from server.drawing.dimension import SIZE, along, extension, label, line, plumb, sheet, widest
from server.drawing.flight_shape import FlightWords, Shape
from server.drawing.text import width_of

WIDTH = 320.0
_LEFT, _TOP = 6.0, 16.0
_FLOOR = 12.0  # inches of floor drawn beyond either end
_HIGHEST = 260.0
_BELOW = 30.0  # room for the run and its text


@dataclass(frozen=True)
class _Scale:
    """Where inches stand on the sheet: `x` level from the first nosing, `y` up from the floor."""

    left: float
    foot: float
    per_inch: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.left + x * self.per_inch, self.foot - y * self.per_inch


def flight_drawing(shape: Shape, words: FlightWords) -> Markup:
    """The flight with its dimensions above, the foot and the head of it enlarged below."""
    right = widest(words.rise) + 16
    wide = shape.run + 2 * _FLOOR
    deepest = max(shape.floor_below, 2.0)
    per_inch = min((WIDTH - _LEFT - right) / wide, _HIGHEST / (shape.rise + deepest))
    foot = _TOP + shape.rise * per_inch
    scale = _Scale(_LEFT + _FLOOR * per_inch, foot, per_inch)
    base = foot + deepest * per_inch + 20
    main = (
        *_over_head(shape, words, scale),
        line([scale.at(*p) for p in shape.rough(_FLOOR)], "fg-hidden"),
        line([scale.at(*p) for p in shape.finished(_FLOOR)], "fg-ink"),
        *_dimensions(shape, words, scale, base),
        *_under(shape, words, scale),
    )
    ends, height = flight_ends.ends(shape, words, base + _BELOW, WIDTH)
    return sheet(WIDTH, height, words.title, *main, ends)


def _dimensions(shape: Shape, words: FlightWords, scale: _Scale, base: float) -> tuple[Markup, ...]:
    """Total rise to the right, total run below."""
    first, top = scale.at(0, 0), scale.at(shape.run, shape.rise)
    beyond = scale.at(shape.run + _FLOOR, 0)[0] + 6
    parts = [
        extension((scale.at(shape.run + 2, 0), (beyond + 4, first[1]))),
        extension(((beyond - 8, top[1]), (beyond + 4, top[1]))),
        plumb(beyond, top[1], first[1], words.rise, bold=True),
    ]
    if shape.count > 1:
        parts += [
            extension(((first[0], first[1] + 3), (first[0], base + 4))),
            extension(((top[0], first[1] + 3), (top[0], base + 4))),
            along(first[0], top[0], base, words.run, below=True),
        ]
    return tuple(parts)


def _under(shape: Shape, words: FlightWords, scale: _Scale) -> tuple[Markup, ...]:
    """What stands under the flight, as far as there is room for it."""
    right, foot = scale.at(shape.run, 0)
    high = SIZE * 1.25
    fall = shape.rise / max(shape.run, 1.0)
    parts = []
    for no, text in enumerate(reversed(words.under)):
        up = (no + 1) * high + 4
        if right - width_of(text, SIZE) - 10 > scale.left + up / fall:
            parts.append(label(text, right - 4, foot - up + high - 4, anchor="end"))
    return tuple(parts)


def _over_head(shape: Shape, words: FlightWords, scale: _Scale) -> tuple[Markup, ...]:
    """The floor above with its edge, the headroom under it, and the line that heads need."""
    parts = []
    if shape.headroom_wanted is not None and shape.count > 1:
        fall = shape.riser / shape.going
        low = scale.at(0, shape.riser + shape.headroom_wanted)
        over = min(shape.run, max(0.0, (shape.rise - shape.riser - shape.headroom_wanted) / fall))
        if over > 0:
            high = scale.at(over, shape.riser + shape.headroom_wanted + over * fall)
            parts.append(line((low, high), "fg-center"))
            parts.append(label(words.headroom_line, high[0] + 6, high[1] + 10, size=SIZE * 0.9))
    if shape.floor_depth is None or shape.opening is None:
        return tuple(parts)
    edge, soffit = shape.run - shape.opening, shape.rise - shape.floor_depth
    if edge > -_FLOOR:
        corners = ((-_FLOOR, shape.rise), (edge, shape.rise), (edge, soffit), (-_FLOOR, soffit))
        parts.append(line([scale.at(*p) for p in corners], "fg-ink"))
        under = max(0.0, shape.nosing_at(edge))
        (x, y1), (_, y2) = scale.at(edge, soffit), scale.at(edge, under)
        parts.append(plumb(x, y1, y2, (words.headroom,)))
    return tuple(parts)
