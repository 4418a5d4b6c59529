"""Rail stand-offs: where each meets the wall, what blocking waits for it, how long its rod is.

Everything is along one straight flight. The nosing line runs through all nosings; the rail is
parallel to it, from plumb above the lowest nosing to plumb above the nosing of the floor above,
or past them. Along the floor is measured from plumb under the lowest nosing, along the rake from
the rail's lower end; heights are of the middle of the rod. Plain trigonometry (tag "C"), inches.
"""

import math
from dataclasses import dataclass

from server.core.figures.base import BadFigure, Judged, Profile
from server.core.figures.lengths import length
from server.core.figures.standoff_limits import held_against
from server.core.figures.studs import StudPlace, Studs, place_on

# A rail's load at the top, in any direction: IRC 2021 R301.5 (tag "S").
LOAD_LB = 200.0
MOST_TREADS = 60
MOST_STAND_OFFS = 100
_HAIR = 1e-9


@dataclass(frozen=True, kw_only=True)
class RailOnWall:
    """What a wall rail on stand-offs is made to, in inches.

    `tread` is nosing to nosing; `rail_height` plumb from the nosing line to the rail's top;
    `rail_deep` is square to the slope, `rail_wide` away from the wall; `first` and `last` are
    from the rail's ends to the first and the last rod. `past_bottom` and `past_top` are how far
    the rail runs past the nosings, along the rake (negative: it stops short). `floor` is what the
    finished floor below stands above the rough one. `cover` is the wood wanted above and below
    the middle of a rod. `walls` are build-ups as measured, stud face to finished plaster, in the
    order of the stand-offs. `rod` is a whole rod, `grip` the thread wanted behind the stud face.
    """

    rise: float
    tread: float
    treads: int
    rail_height: float
    rail_deep: float
    rail_wide: float
    clearance: float
    board: float
    plaster: float
    first: float
    last: float
    most: float
    studs: Studs
    is_round: bool = True
    past_bottom: float = 0.0
    past_top: float = 0.0
    floor: float = 0.0
    cover: float = 1.5  # common practice
    height_within: float = 0.25  # common practice
    string_within: float = 0.0625  # common practice
    walls: tuple[float | None, ...] = ()
    rod: float | None = None
    grip: float | None = None


@dataclass(frozen=True, kw_only=True)
class StandOff:
    """One stand-off, numbered from the bottom; lengths in inches.

    `tread` is the tread plumb under it: 0 the floor below, one more than there are the floor
    above. The blocking band is above the rough floor, as blocking is set before the floor.
    `to_middle` is the rod from the stud face to the rail's middle, `cut_to` with the thread
    wanted behind it, `grip` the thread that a given rod leaves there. `moment_in_lb` is 200 lb
    at `to_middle`: the question for the engineer.
    """

    no: int
    along_rake: float
    along_floor: float
    tread: int
    above_tread: float
    above_floor: float
    band_low: float
    band_high: float
    place: StudPlace
    wall: float
    wall_measured: bool
    to_middle: float
    cut_to: float | None
    grip: float | None
    moment_in_lb: float


@dataclass(frozen=True, kw_only=True)
class StandOffFigure:
    """All stand-offs of a rail, the values in between, and what was held against which limit."""

    rail: RailOnWall
    slope_degrees: float
    rail_long: float
    spacing: float
    middle_under_top: float
    middle_above_nosings: float
    stand_offs: tuple[StandOff, ...]
    judged: tuple[Judged, ...]


def stand_offs(rail: RailOnWall, profile: Profile | None = None) -> StandOffFigure:
    """The stand-offs of a rail, evenly spaced and never more than `most` apart.

    Raises `BadFigure` for what makes no rail: no treads, a length of 0 or below where there must
    be one, a rail shorter than its two end distances; its field is that of `RailOnWall`.
    """
    _check(rail)
    slope = math.atan2(rail.rise, rail.tread)
    flight = math.hypot(rail.rise, rail.tread) * rail.treads
    rail_long = flight + rail.past_bottom + rail.past_top
    span = rail_long - rail.first - rail.last
    if span < -_HAIR:
        raise BadFigure("standoffs.ends_cross", field="last")
    spacings = _spacings(span, rail.most)
    spacing = span / spacings if spacings else 0.0
    under_top = rail.rail_deep / 2 / math.cos(slope)
    above_nosings = rail.rail_height - under_top
    found = tuple(
        _one(rail, no, rail.first + (no - 1) * spacing, slope, above_nosings)
        for no in range(1, spacings + 2)
    )
    return StandOffFigure(
        rail=rail,
        slope_degrees=math.degrees(slope),
        rail_long=rail_long,
        spacing=spacing,
        middle_under_top=under_top,
        middle_above_nosings=above_nosings,
        stand_offs=found,
        judged=_judged(rail, spacing, found, profile),
    )


def _spacings(span: float, most: float) -> int:
    """How many equal spacings fill a span, none of them over the most."""
    if span <= _HAIR:
        return 0
    count = max(1, math.ceil(span / most - _HAIR))
    if count >= MOST_STAND_OFFS:
        raise BadFigure("standoffs.too_many", field="most", most=MOST_STAND_OFFS)
    return count


def _one(
    rail: RailOnWall, no: int, along_rake: float, slope: float, above_nosings: float
) -> StandOff:
    along_floor = (along_rake - rail.past_bottom) * math.cos(slope)
    above_floor = rail.rise + along_floor * math.tan(slope) + above_nosings
    tread = _tread_under(rail, along_floor)
    measured = rail.walls[no - 1] if no <= len(rail.walls) else None
    wall = rail.board + rail.plaster if measured is None else measured
    to_middle = wall + rail.clearance + rail.rail_wide / 2
    band = rail.cover + rail.height_within
    above_rough = above_floor + rail.floor
    return StandOff(
        no=no,
        along_rake=along_rake,
        along_floor=along_floor,
        tread=tread,
        above_tread=above_floor - tread * rail.rise,
        above_floor=above_floor,
        band_low=above_rough - band,
        band_high=above_rough + band,
        place=place_on(rail.studs, along_floor),
        wall=wall,
        wall_measured=measured is not None,
        to_middle=to_middle,
        cut_to=None if rail.grip is None else to_middle + rail.grip,
        grip=None if rail.rod is None else rail.rod - to_middle,
        moment_in_lb=LOAD_LB * to_middle,
    )


def _tread_under(rail: RailOnWall, along_floor: float) -> int:
    if along_floor < -_HAIR:
        return 0
    return min(int(along_floor / rail.tread + _HAIR) + 1, rail.treads + 1)


def _judged(
    rail: RailOnWall, spacing: float, found: tuple[StandOff, ...], profile: Profile | None
) -> tuple[Judged, ...]:
    least_grip = min((one.grip for one in found if one.grip is not None), default=None)
    own = () if rail.grip is None or least_grip is None else (
        Judged(what="grip", value=least_grip, unit="in", least=rail.grip),
    )  # fmt: skip
    return (
        *held_against(
            profile,
            height=rail.rail_height,
            clearance=rail.clearance,
            deep=rail.rail_deep,
            wide=rail.rail_wide,
            is_round=rail.is_round,
            spacing=spacing,
            end=max(rail.first, rail.last),
        ),
        *own,
    )


_OVER_NONE = ("rise", "tread", "rail_height", "rail_deep", "rail_wide", "most")
_FROM_NONE = (
    "clearance", "board", "plaster", "first", "last", "floor", "cover", "height_within",
    "string_within", "rod", "grip",
)  # fmt: skip


def _check(rail: RailOnWall) -> None:
    if not 1 <= rail.treads <= MOST_TREADS:
        raise BadFigure("standoffs.treads", field="treads", most=MOST_TREADS)
    for name in (*_OVER_NONE, *_FROM_NONE):
        value = getattr(rail, name)
        if value is not None:
            length(value, name, zero=name in _FROM_NONE)
    for name in ("past_bottom", "past_top"):
        length(abs(getattr(rail, name)), name, zero=True)
    for wall in rail.walls:
        if wall is not None:
            length(wall, "walls", zero=True)
