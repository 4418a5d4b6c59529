"""A wall rail with its stand-offs, to scale, seen square to the wall.

The finished treads and the nosing line over them, the rail, each stand-off with its number, the
blocks that wait for the rods between the studs, and the band in which blocking has to be.
"""

import math
from dataclasses import dataclass

from markupsafe import Markup

from server.core.figures.standoffs import StandOff, StandOffFigure
from server.core.figures.studs import On
from server.drawing.svg import Box, element, joined, number, path, rect
from server.drawing.text import width_of

WIDTH = 320.0
_MOST_SCALE = 8.0  # units to the inch
_SIZE = 11.0
_ABOVE = 30.0  # room above the rail for numbers
_STUDS_PAST = 3.0  # inches that studs are drawn past what stands between them


@dataclass(frozen=True)
class RailWords:
    """The words of the drawing: `title` says the whole, the others are the two measures in it."""

    title: str
    height: str
    spacing: str


class _Wall:
    """From inches along the floor and above it, to where that stands in the drawing."""

    def __init__(self, figure: StandOffFigure) -> None:
        rail = figure.rail
        self.figure = figure
        self.slope = math.radians(figure.slope_degrees)
        self.rise = math.tan(self.slope)
        self.run = rail.treads * rail.tread
        self.rail_from = -rail.past_bottom * math.cos(self.slope)
        self.rail_to = self.run + rail.past_top * math.cos(self.slope)
        self.left = min(0.0, self.rail_from) - 6
        self.right = max(self.run, self.rail_to) + max(6.0, rail.tread)
        self.scale = min(_MOST_SCALE, WIDTH / (self.right - self.left))
        self.shift = (WIDTH - (self.right - self.left) * self.scale) / 2
        self.top = max(
            self.line(self.rail_to) + rail.rail_height,
            (rail.treads + 1) * rail.rise + rail.rail_height,
        )

    def line(self, along: float) -> float:
        """The height of the nosing line above the finished floor."""
        return self.figure.rail.rise + along * self.rise

    def band(self, along: float) -> tuple[float, float]:
        """The height between which blocking has to be, at a place."""
        rail = self.figure.rail
        middle = self.line(along) + self.figure.middle_above_nosings
        return middle - rail.cover - rail.height_within, middle + rail.cover + rail.height_within

    def x(self, along: float) -> float:
        """Where a place along the floor stands."""
        return self.shift + (along - self.left) * self.scale

    def y(self, above: float) -> float:
        """Where a height above the finished floor stands."""
        return _ABOVE + (self.top - above) * self.scale

    def at(self, along: float, above: float) -> str:
        """A point, as paths are written."""
        return f"{number(self.x(along))} {number(self.y(above))}"


def rail_standoffs(figure: StandOffFigure, words: RailWords) -> Markup:
    """The drawing, 320 units wide and as high as the flight needs at that scale."""
    wall = _Wall(figure)
    foot = wall.y(0) + 18
    return element(
        "svg",
        element("title", words.title),
        _studs(wall),
        _band(wall),
        joined(_block(wall, one) for one in figure.stand_offs),
        _treads(wall),
        _rail(wall),
        joined(_stand_off(wall, one) for one in figure.stand_offs),
        _height(wall, words.height),
        _spacing(wall, words.spacing),
        class_="fig rs",
        role="img",
        viewBox=f"0 0 {number(WIDTH)} {number(foot)}",
        font_size=_SIZE,
    )


def _studs(wall: _Wall) -> Markup:
    """Each stud beside the band, hidden behind the face, with its number under it."""
    studs = wall.figure.rail.studs
    first = math.ceil((wall.rail_from - studs.first) / studs.spacing) + 1
    last = math.floor((wall.rail_to - studs.first) / studs.spacing) + 1
    every = max(1, math.ceil(width_of("00", _SIZE) / (studs.spacing * wall.scale)))
    past = studs.spacing * wall.rise + _STUDS_PAST  # a block is level, the band is not
    d, numbers = "", []
    for no in range(first - 1, last + 2):
        middle = studs.middle(no)
        if not wall.left <= middle <= wall.right:
            continue
        low, high = wall.band(middle)
        low, top = max(low - past, 0.0), max(wall.y(high + past), 1.0)
        for edge in (middle - studs.wide / 2, middle + studs.wide / 2):
            d += f"M{wall.at(edge, low)}V{number(top)}"
        if no % every == 0 and low > 0:
            numbers.append(element("text", str(no), x=wall.x(middle), y=wall.y(low) + 11))
    lines = path(d, class_="fg-thin", stroke_dasharray="4 2")
    return lines + element("g", joined(numbers), class_="fg-soft", text_anchor="middle")


def _band(wall: _Wall) -> Markup:
    """The two edges of the band, along the whole rail."""
    ends = (wall.rail_from, wall.rail_to)
    lines = [[wall.at(along, wall.band(along)[side]) for along in ends] for side in (0, 1)]
    d = "".join(f"M{a}L{b}" for a, b in lines)
    return path(d, class_="fg-thin rs-band", stroke_dasharray="6 3")


def _block(wall: _Wall, one: StandOff) -> Markup:
    """The blocking that a stand-off wants: across its bay, or beside its stud at an edge."""
    studs, rail = wall.figure.rail.studs, wall.figure.rail
    if one.place.on is On.STUD:
        return Markup()
    lower = one.place.no
    if one.place.on is On.EDGE and one.place.off < 0:
        lower -= 1
    left = max(studs.middle(lower) + studs.wide / 2, wall.left)
    right = min(studs.middle(lower + 1) - studs.wide / 2, wall.right)
    high, low = one.band_high - rail.floor, one.band_low - rail.floor
    box = Box(wall.x(left), wall.y(high), (right - left) * wall.scale, (high - low) * wall.scale)
    return rect(box, class_="fg-sheet") + rect(
        box, fill="url(#h-wood)", stroke="currentColor", stroke_width=0.8, class_="rs-block"
    )


def _treads(wall: _Wall) -> Markup:
    """The finished treads with their numbers, the floors, and the line through the nosings."""
    rail = wall.figure.rail
    d = f"M{wall.at(wall.left, 0)}H{number(wall.x(0))}"
    numbers = []
    for no in range(1, rail.treads + 2):
        along = (no - 1) * rail.tread
        d += f"V{number(wall.y(no * rail.rise))}"
        d += f"H{number(wall.x(min(along + rail.tread, wall.right)))}"
        if no <= rail.treads and rail.tread * wall.scale >= width_of(str(no), _SIZE) + 3:
            x, y = wall.x(along + rail.tread / 2), wall.y(no * rail.rise) + _SIZE + 1
            numbers.append(element("text", str(no), x=x, y=y))
    line = f"M{wall.at(0, wall.line(0))}L{wall.at(wall.run, wall.line(wall.run))}"
    return (
        path(d, class_="fg-ink")
        + path(line, class_="fg-center")
        + element("g", joined(numbers), text_anchor="middle")
    )


def _rail(wall: _Wall) -> Markup:
    rail = wall.figure.rail
    deep = 2 * wall.figure.middle_under_top
    ends = (wall.rail_from, wall.rail_to)
    tops = [wall.line(along) + rail.rail_height for along in ends]
    corners = [
        wall.at(ends[0], tops[0]),
        wall.at(ends[1], tops[1]),
        wall.at(ends[1], tops[1] - deep),
        wall.at(ends[0], tops[0] - deep),
    ]
    return path("M" + "L".join(corners) + "z", class_="fg-sheet", stroke="currentColor")


def _stand_off(wall: _Wall, one: StandOff) -> Markup:
    """The rod, and its number above the rail."""
    x, y = wall.x(one.along_floor), wall.y(one.above_floor)
    top = wall.y(one.above_floor + wall.figure.middle_under_top)
    rod = element("circle", cx=x, cy=y, r=2.4, class_="bu-dot")
    text = element(
        "text", str(one.no), x=x, y=top - 5, class_="rs-no", font_weight=700, text_anchor="middle"
    )
    return rod + text


def _height(wall: _Wall, said: str) -> Markup:
    """The height of the rail, plumb above a nosing near the upper end."""
    rail = wall.figure.rail
    along = max(0, rail.treads - 1) * rail.tread
    low, high = wall.y(wall.line(along)), wall.y(wall.line(along) + rail.rail_height)
    x = wall.x(along)
    tick = f"M{number(x - 3)} {{}}h6"
    d = f"M{number(x)} {number(low)}V{number(high)}" + "".join(
        tick.format(number(y)) for y in (low, high)
    )
    return path(d, class_="fg-line rs-height") + _measure(
        said, x - width_of(said, _SIZE) - 4, low - 10
    )


def _spacing(wall: _Wall, said: str) -> Markup:
    """The even spacing, along the rake above the first two stand-offs."""
    found = wall.figure.stand_offs
    if len(found) < 2:
        return Markup()
    first, second = found[0], found[1]
    away = 21.0
    over = wall.figure.middle_under_top * wall.scale
    dx, dy = -away * math.sin(wall.slope), -away * math.cos(wall.slope) - over
    ends = [(wall.x(one.along_floor) + dx, wall.y(one.above_floor) + dy) for one in (first, second)]
    (ax, ay), (bx, by) = ends
    ticks = "".join(f"M{number(x)} {number(y - 4)}v8" for x, y in ends)
    line = path(
        f"M{number(ax)} {number(ay)}L{number(bx)} {number(by)}{ticks}", class_="fg-line rs-apart"
    )
    x, y = (ax + bx) / 2, (ay + by) / 2 - 5
    turn = f"rotate({number(-wall.figure.slope_degrees)} {number(x)} {number(y)})"
    return line + element("text", said, x=x, y=y, text_anchor="middle", transform=turn)


def _measure(said: str, x: float, y: float) -> Markup:
    """A measure on a strip of sheet, so that no line runs through it."""
    wide = width_of(said, _SIZE)
    x = max(x, 2)
    strip = rect(Box(x - 1, y - 10, wide + 2, 13), class_="k-ground")
    return strip + element("text", said, x=x, y=y)
