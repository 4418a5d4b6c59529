"""Where the days and the finish dates of a finish line stand, and what room is left for words.

Days go to the right and later finishes down. The line is made of straight pieces: one for all
days on which nothing moved, and a short slope within the day of a move.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from markupsafe import Markup

from server.drawing.svg import Box, element
from server.drawing.text import width_of

WIDTH, LEFT = 320.0, 10.0
SIZE, LINE = 12.5, 14.0  # of the letters, and of the room that a line of them takes
WIDEST = 112.0  # a longer text is drawn narrower
_BASE = 11.0  # from the top of a line of words down to where its letters stand
_DAY_DOWN = 9.0  # while they fit, a day's sag is as high on every drawing
_HIGHEST = 126.0
_DAY_WIDE = 72.0
_SLOPE = 5.0
_HANGS = 2.4


@dataclass(frozen=True)
class Evening:
    """What was forecast on the evening of a day, and what was promised then."""

    day: date
    finish: date
    promised: date | None

    @property
    def late(self) -> bool:
        """Whether the forecast is later than what is promised."""
        return self.promised is not None and self.finish > self.promised

    @property
    def early(self) -> bool:
        """Whether the forecast is before what is promised."""
        return self.promised is not None and self.finish < self.promised


@dataclass(frozen=True)
class Piece:
    """A straight piece of the forecast from `x`, `y` to `right`, `end`, and the string above it."""

    x: float
    right: float
    y: float
    end: float
    string: float | None
    late: bool


class Scale:
    """The places of some evenings, at least one, in the order of their days.

    `right` is where the last evening stands; up to `gutter` units beyond it are for its labels.
    """

    def __init__(self, evenings: Sequence[Evening], gutter: float) -> None:
        self.evenings = evenings
        room = WIDTH - LEFT - gutter
        self._wide = min(_DAY_WIDE if len(evenings) > 1 else _DAY_WIDE / 2, room / len(evenings))
        self.right = LEFT + self._wide * len(evenings)
        levels = [evening.finish for evening in evenings]
        levels += [evening.promised for evening in evenings if evening.promised]
        self._first = min(levels)
        span = (max(levels) - self._first).days
        self._down = min(_DAY_DOWN, _HIGHEST / span) if span else _DAY_DOWN
        self.pieces = tuple(self._pieces())

    def x(self, index: int) -> float:
        """Where the evening with this index stands."""
        return LEFT + self._wide * (index + 1)

    def start(self, index: int) -> float:
        """Where what changed on that evening's day begins to show."""
        return LEFT if index == 0 else self.x(index) - min(self._wide, _SLOPE)

    def y(self, finish: date) -> float:
        """The height of a finish date; the earliest of all is at 0."""
        return (finish - self._first).days * self._down

    def hung(self, finish: date) -> float:
        """The height of the chalk line at a finish date: under a string of that date, touching."""
        return self.y(finish) + min(_HANGS, self._down * 0.3)

    def index(self, day: date) -> int:
        """The first evening on or after a day; the last one where there is none."""
        later = (no for no, evening in enumerate(self.evenings) if evening.day >= day)
        return next(later, len(self.evenings) - 1)

    def reach(self, left: float, right: float) -> tuple[float, float]:
        """The highest and the lowest point of forecast and string between two places."""
        heights = [
            height
            for piece in self.pieces
            if piece.x <= right and piece.right >= left
            for height in (piece.y, piece.end, piece.string)
            if height is not None
        ]
        return min(heights), max(heights)

    def _pieces(self) -> Iterable[Piece]:
        start = LEFT
        for index, (before, now) in enumerate(pairwise(self.evenings), 1):
            if (before.finish, before.promised) == (now.finish, now.promised):
                continue
            turn = self.start(index)
            if turn - start > 0.05:
                yield self._piece(start, turn, before, before)
            yield self._piece(turn, self.x(index), before, now)
            start = self.x(index)
        if self.right - start > 0.05:
            yield self._piece(start, self.right, self.evenings[-1], self.evenings[-1])

    def _piece(self, left: float, right: float, before: Evening, now: Evening) -> Piece:
        string = self.y(now.promised) if now.promised else None
        last = max(before.finish, now.finish)
        late = (before.late or now.late) and now.promised is not None and last > now.promised
        return Piece(left, right, self.hung(before.finish), self.hung(now.finish), string, late)


class Room:
    """The places that words have taken, outside of forecast and string."""

    def __init__(self, scale: Scale) -> None:
        self.scale = scale
        self.taken: list[Box] = []

    def beside(
        self, left: float, text: str, level: float, *, under: bool, bold: bool = False
    ) -> Box:
        """A box for the text under its level and all that is drawn there, or above them."""
        wide = wide_of(text, bold=bold)
        top, foot = self.scale.reach(left - 3, left + wide)
        top, foot = min(top, level), max(foot, level)
        return Box(left, foot + 4 if under else top - 3 - LINE, wide, LINE)

    def find(self, lefts: Iterable[float], text: str, level: float, *, under: bool) -> Box | None:
        """Takes the first of the places where the text is next to its level and touches nothing."""
        wide = wide_of(text)
        for left in lefts:
            if left < LEFT or left + wide > self.scale.right:
                continue
            box = self.beside(left, text, level, under=under)
            away = box.y - 4 - level if under else level - 3 - box.bottom
            # Dates that stand close are not read: each keeps its distance, however short it is.
            wider = Box(box.x - 4, box.y, max(box.w, 62) + 8, box.h)
            if away < 3 and not any(wider.touches(other) for other in self.taken):
                self.taken.append(wider)
                return box
        return None


def wide_of(text: str, *, bold: bool = False) -> float:
    """How wide a text is drawn, at most."""
    return min(width_of(text, SIZE, bold=bold), WIDEST)


def lettered(text: str, x: float, box: Box, class_: str | None = None) -> Markup:
    """A line of words that begins at `x`, or has its middle there, in the height of a box."""
    squeezed = width_of(text, SIZE) > WIDEST
    return element(
        "text",
        text,
        x=x,
        y=box.y + _BASE,
        class_=class_,
        textLength=WIDEST if squeezed else None,
        lengthAdjust="spacingAndGlyphs" if squeezed else None,
    )
