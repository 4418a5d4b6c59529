"""A straight flight: count, riser, run, pitch, headroom, stringer, and its rough cuts. Inches."""

import math
from dataclasses import dataclass
from typing import Literal

from server.core.figures.base import BadFigure, Judged, Profile, judged
from server.core.figures.lengths import judged_length, least_of, length
from server.core.figures.stairs.risers import MOST_RISERS, Packing, packing, risers, rough_surfaces

Measured = Literal["finished", "rough"]


@dataclass(frozen=True, kw_only=True)
class Flight:
    """What is known of a flight.

    `rise` is measured finished floor to finished floor, or rough to rough (`measured`). `going` is
    the tread depth from nosing to nosing, not the board. Either `count` or `wanted_riser` is given.
    `opening` goes level from the landing's nosing to the finished edge of the floor above that the
    head passes, `floor_depth` plumb from the finished floor above to the finished soffit below it.
    """

    rise: float
    going: float
    count: int | None = None
    wanted_riser: float | None = None
    measured: Measured = "finished"
    nosing: float = 0.0
    tread: float = 0.0
    floor_below: float = 0.0
    floor_above: float = 0.0
    opening: float | None = None
    floor_depth: float | None = None


@dataclass(frozen=True)
class Choice:
    """A count of risers that could be chosen, and what it gives."""

    count: int
    riser: float
    pitch: float
    twice_riser_and_tread: float
    within: bool


@dataclass(frozen=True, kw_only=True)
class FlightFigure:
    """The flight worked out. Lengths in inches, `pitch` in degrees.

    `marks` are the finished treads and floor over the finished floor below, `rough_marks` the rough
    ones over the rough floor below: each is marked from the bottom, none from the last.
    `nosing_line` goes along the slope from the first nosing to the landing's; `stringer` is the
    shortest piece before the cuts at heel and head. `headroom` and `least_opening` need the floor
    above.
    """

    given: Flight
    count: int
    total_rise: float
    riser: float
    treads: int
    run: float
    board: float
    pitch: float
    twice_riser_and_tread: float
    nosing_line: float
    stringer: float
    rough: tuple[float, ...]
    marks: tuple[float, ...]
    rough_marks: tuple[float, ...]
    rough_difference: float
    packing: Packing
    headroom: float | None
    headroom_wanted: float | None
    least_opening: float | None
    choices: tuple[Choice, ...]
    judged: tuple[Judged, ...]


def flight(given: Flight, profile: Profile) -> FlightFigure:
    """The figure of a straight flight against a profile. Raises `BadFigure`, naming the field."""
    _possible(given)
    total = _total_rise(given)
    count = _count(given, total)
    riser, treads = total / count, count - 1
    builds = (given.tread, given.floor_below, given.floor_above)
    rough = risers(total, count, *builds)
    slope = math.hypot(riser, given.going)
    wanted = least_of(profile, "headroom")
    headroom, least_opening = _headroom(given, total, riser, treads, wanted)
    figure = FlightFigure(
        given=given,
        count=count,
        total_rise=total,
        riser=riser,
        treads=treads,
        run=treads * given.going,
        board=given.going + given.nosing,
        pitch=_pitch(riser, given.going),
        twice_riser_and_tread=2 * riser + given.going,
        nosing_line=treads * slope,
        stringer=count * slope,
        rough=rough,
        marks=tuple(k * riser for k in range(1, count + 1)),
        rough_marks=rough_surfaces(total, count, *builds),
        rough_difference=max(rough) - min(rough),
        packing=packing(total, count, *builds),
        headroom=headroom,
        headroom_wanted=wanted,
        least_opening=least_opening,
        choices=_choices(total, count, given.going, profile),
        judged=(),
    )
    held = tuple(one for one in _judged(figure, profile) if one is not None)
    return FlightFigure(**{**vars(figure), "judged": held})


def _possible(given: Flight) -> None:
    length(given.rise, "rise")
    length(given.going, "going")
    for name in ("nosing", "tread", "floor_below", "floor_above"):
        length(getattr(given, name), name, zero=True)
    if given.opening is not None:
        length(given.opening, "opening")
    if given.floor_depth is not None:
        length(given.floor_depth, "floor_depth", zero=True)
    if given.nosing >= given.going:
        raise BadFigure("stairs.nosing_too_deep", field="nosing")


def _total_rise(given: Flight) -> float:
    if given.measured == "finished":
        return given.rise
    total = given.rise + given.floor_above - given.floor_below
    if total <= 0:
        raise BadFigure("stairs.no_rise_left", field="floor_below")
    return total


def _count(given: Flight, total: float) -> int:
    """As many risers as were asked for, or so many that each comes nearest the wanted height."""
    if given.count is not None:
        count = given.count
    elif given.wanted_riser is not None:
        length(given.wanted_riser, "wanted_riser")
        near = max(1, math.floor(total / given.wanted_riser))
        wanted = given.wanted_riser
        count = min(near, near + 1, key=lambda n: abs(total / n - wanted))
    else:
        raise BadFigure("stairs.count_or_riser", field="count")
    if not 1 <= count <= MOST_RISERS:
        field = "count" if given.count is not None else "wanted_riser"
        raise BadFigure("stairs.count", field=field, most=MOST_RISERS)
    return count


def _pitch(riser: float, going: float) -> float:
    return math.degrees(math.atan2(riser, going))


def _headroom(
    given: Flight, total: float, riser: float, treads: int, wanted: float | None
) -> tuple[float | None, float | None]:
    """Headroom under the edge of the floor above, and the least opening that gives what is wanted.

    The nosing line falls riser/going for each inch back from the landing's nosing; beyond the
    first nosing the head is over the floor.
    """
    if given.floor_depth is None:
        return None, None
    soffit = total - given.floor_depth
    fall = riser / given.going
    least = None if wanted is None else (wanted + given.floor_depth) / fall
    if given.opening is None:
        return None, least
    past = given.opening > treads * given.going
    under = 0.0 if past else total - given.opening * fall
    return soffit - under, least


def _choices(total: float, count: int, going: float, profile: Profile) -> tuple[Choice, ...]:
    """This count with one less and one more."""
    found = []
    for n in (count - 1, count, count + 1):
        if 1 <= n <= MOST_RISERS:
            riser = total / n
            twice = 2 * riser + going
            held = (
                judged_length(profile, "riser", riser),
                judged_length(profile, "twice_riser_and_tread", twice),
                judged(profile, "pitch", _pitch(riser, going)),
            )
            within = all(one.within for one in held if one is not None)
            found.append(Choice(n, riser, _pitch(riser, going), twice, within))
    return tuple(found)


def _judged(figure: FlightFigure, profile: Profile) -> tuple[Judged | None, ...]:
    given, differ = figure.given, figure.rough_difference
    no_nosing_from = least_of(profile, "nosing_not_from")
    nosing_asked = no_nosing_from is None or given.going < no_nosing_from or given.nosing > 0
    return (
        judged_length(profile, "riser", figure.riser),
        judged_length(profile, "tread", given.going),
        judged_length(profile, "nosing", given.nosing) if nosing_asked else None,
        judged(profile, "pitch", figure.pitch),
        judged_length(profile, "twice_riser_and_tread", figure.twice_riser_and_tread),
        None if figure.headroom is None else judged_length(profile, "headroom", figure.headroom),
        judged_length(profile, "rise_between_landings", figure.total_rise),
        judged_length(profile, "riser_variation", differ, "rough_as_finished"),
        judged_length(profile, "temporary_riser_variation", differ, "rough_as_cut"),
        judged(profile, "temporary_pitch", figure.pitch),
        judged_length(profile, "temporary_landing_every", figure.total_rise),
    )
