"""What is drawn of a flight: its shape in inches, and its words.

Inches go level from the first nosing and up from the finished floor below.
"""

from dataclasses import dataclass

from server.drawing.dimension import Point


@dataclass(frozen=True, kw_only=True)
class Shape:
    """What is drawn of a flight; its numbers come from the figure and are possible ones."""

    count: int
    riser: float
    going: float
    nosing: float = 0.0
    tread: float = 0.0
    floor_below: float = 0.0
    floor_above: float = 0.0
    opening: float | None = None
    floor_depth: float | None = None
    headroom_wanted: float | None = None

    @property
    def run(self) -> float:
        """From the first nosing to the landing's."""
        return (self.count - 1) * self.going

    @property
    def rise(self) -> float:
        """Finished floor to finished floor."""
        return self.count * self.riser

    def nosing_at(self, x: float) -> float:
        """How high the nosing line is over the finished floor at `x`; below 0 before the foot."""
        return self.riser + x * self.riser / self.going if x >= 0 else 0.0

    def finished(self, floor: float) -> list[Point]:
        """The finished profile with so much floor at either end, nosings drawn square."""
        points: list[Point] = [(-floor, 0.0), (self.nosing, 0.0)]
        thick = min(self.tread or 1.0, self.riser / 2)
        for k in range(1, self.count + 1):
            x, y = (k - 1) * self.going, k * self.riser
            lip = min(thick if k < self.count else max(self.floor_above, thick), self.riser / 2)
            points += [(x + self.nosing, y - lip), (x, y - lip), (x, y)]
            points.append((x + self.going + self.nosing if k < self.count else x + floor, y))
        return points

    def rough(self, floor: float) -> list[Point]:
        """The rough profile under it: floor, treads as they are cut, floor above."""
        points: list[Point] = [(-floor, -self.floor_below), (self.nosing, -self.floor_below)]
        for k in range(1, self.count + 1):
            x = (k - 1) * self.going + self.nosing
            y = self.rough_at(k)
            end = x + self.going if k < self.count else (k - 1) * self.going + floor
            points += [(x, y), (end, y)]
        return points

    def rough_at(self, k: int) -> float:
        """The height of rough surface `k` over the finished floor; 0 is the rough floor below."""
        if k == 0:
            return -self.floor_below
        on_top = self.floor_above if k == self.count else self.tread
        return k * self.riser - on_top


@dataclass(frozen=True)
class FlightWords:
    """The words and printed values of the drawing, in the reader's language and units.

    `title` says the whole to those who do not see it; `first` and `last` are rough risers, `under`
    lines that stand under the flight; `headroom` is "" where it is not known.
    """

    title: str
    rise: tuple[str, ...]
    run: str
    riser: str
    first: tuple[str, ...]
    last: tuple[str, ...]
    finished: str
    rough: str
    foot: str
    head: str
    under: tuple[str, ...] = ()
    headroom: str = ""
    headroom_line: str = ""
