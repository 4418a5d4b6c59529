"""The foot and the head of a flight, enlarged: there rough and finished risers differ."""

from markupsafe import Markup

from server.drawing.dimension import SIZE, Point, extension, label, line, plumb, widest
from server.drawing.flight_shape import FlightWords, Shape
from server.drawing.svg import joined

_GAP, _EDGE = 12.0, 4.0
_AWAY = 2.6  # inches between a riser and its dimensions
_HIGH, _LEAST = 74.0, 3.0  # how high a riser is drawn, and units for an inch


def ends(shape: Shape, words: FlightWords, top: float, width: float) -> tuple[Markup, float]:
    """Both ends one above the other from `top` down, and where the drawing ends then."""
    # Room beside the riser for its dimensions and their text on either side.
    letters = max(widest(some) for some in ((words.riser,), words.first, words.last)) + 16
    per_inch = (width - 2 * letters) / (2 * _AWAY + shape.nosing)
    per_inch = max(_LEAST, min(per_inch, _HIGH / shape.riser))
    parts = [_legend(words, top)]
    named = ((words.head, words.last, shape.count - 1), (words.foot, words.first, 0))
    foot = top + _GAP
    for name, rough, k in named if shape.count > 1 else named[1:]:
        foot += SIZE * 1.9 + shape.riser * per_inch
        end = _End(shape, width, per_inch, foot, k)
        parts += end.drawn(name, words.riser, rough)
        foot += max(0.0, -end.lowest) * per_inch + _GAP
    return joined(parts), foot


class _End:
    """One riser enlarged, from surface `k`, which stands at `foot`, to the next."""

    def __init__(self, shape: Shape, width: float, per_inch: float, foot: float, k: int) -> None:
        self.shape, self.k, self.per_inch, self.foot = shape, k, per_inch, foot
        self.left, self.right, self.middle = _EDGE, width - _EDGE, width / 2

    @property
    def lowest(self) -> float:
        """The rough surface below, over the finished one, in inches."""
        return self.shape.rough_at(self.k) - self.k * self.shape.riser

    def at(self, x: float, y: float) -> Point:
        """Inches from the riser's nosing and over the finished surface `k`, on the sheet."""
        return self.middle + x * self.per_inch, self.foot - y * self.per_inch

    def drawn(self, name: str, riser: str, rough: tuple[str, ...]) -> tuple[Markup, ...]:
        """The riser with the finished height to the left of it and the rough one to the right."""
        shape, k = self.shape, self.k
        low, high = self.lowest, shape.rough_at(k + 1) - k * shape.riser
        cut = self.at(shape.nosing, 0)[0]
        rough_line = ((self.left, self.at(0, low)[1]), (cut, self.at(0, low)[1]),
                      (cut, self.at(0, high)[1]), (self.right, self.at(0, high)[1]))  # fmt: skip
        left, right = self.at(-_AWAY, 0)[0], self.at(shape.nosing + _AWAY, 0)[0]
        return (
            label(name, self.left, self.at(0, shape.riser)[1] - SIZE * 0.7, bold=True),
            line(rough_line, "fg-hidden"),
            line(self._finished(), "fg-ink"),
            extension(((left - 4, self.at(0, shape.riser)[1]), self.at(0, shape.riser))),
            plumb(left, self.at(0, shape.riser)[1], self.at(0, 0)[1], (riser,), left=True),
            extension(((cut, self.at(0, low)[1]), (right + 4, self.at(0, low)[1]))),
            plumb(right, self.at(0, high)[1], self.at(0, low)[1], rough, bold=True),
        )

    def _finished(self) -> list[Point]:
        shape = self.shape
        thick = shape.floor_above if self.k == shape.count - 1 else shape.tread
        lip = shape.riser - min(thick or 1.0, shape.riser / 2)
        inside = [(shape.nosing, 0.0), (shape.nosing, lip), (0.0, lip), (0.0, shape.riser)]
        floor = (self.left, self.at(0, 0)[1])
        over = (self.right, self.at(0, shape.riser)[1])
        return [floor, *(self.at(*point) for point in inside), over]


def _legend(words: FlightWords, y: float) -> Markup:
    """What the two lines are."""
    second = 46 + widest((words.finished,))
    return joined(
        (
            line(((_EDGE, y), (_EDGE + 22, y)), "fg-ink"),
            label(words.finished, _EDGE + 28, y + 4),
            line(((second, y), (second + 22, y)), "fg-hidden"),
            label(words.rough, second + 28, y + 4),
        )
    )
