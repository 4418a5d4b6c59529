"""Winders: tread depth at the walkline and at both ends, from radius, width and angle. Inches.

Nosings run to the center of the turn. A depth is the straight distance between two nosings where
they meet a radius; along the arc it is a little more, and is given beside.
"""

import math
from dataclasses import dataclass

from server.core.figures.base import BadFigure, Judged, Profile
from server.core.figures.lengths import judged_length, least_of, length

MOST_WINDERS = 60
MOST_TURN = 720.0


@dataclass(frozen=True, kw_only=True)
class Winders:
    """`radius` goes to the middle of the clear width; `turn` is what all winders turn, in degrees.

    `walkline_from` is how far the walkline lies from the narrow side of the clear width.
    """

    radius: float
    width: float
    turn: float
    count: int
    walkline_from: float


@dataclass(frozen=True)
class DepthAt:
    """Tread depth at one radius: straight, and along the arc."""

    radius: float
    depth: float
    along: float


@dataclass(frozen=True, kw_only=True)
class WindersFigure:
    """The winders worked out; `each` is the angle of one in degrees."""

    given: Winders
    each: float
    narrow: DepthAt
    walkline: DepthAt
    wide: DepthAt
    least_walkline_radius: float | None
    judged: tuple[Judged, ...]


def winders(given: Winders, profile: Profile) -> WindersFigure:
    """The figure of winders that are all alike. Raises `BadFigure`, naming the field."""
    length(given.radius, "radius")
    length(given.width, "width")
    length(given.walkline_from, "walkline_from", zero=True)
    turn_of(given.turn)
    if not 1 <= given.count <= MOST_WINDERS:
        raise BadFigure("stairs.winders_count", field="winders", most=MOST_WINDERS)
    narrow = inner_radius(given.radius, given.width)
    if given.walkline_from > given.width:
        raise BadFigure("stairs.walkline_outside", field="walkline_from")
    each = math.radians(given.turn) / given.count
    if each >= math.pi:
        raise BadFigure("stairs.winder_too_wide", field="winders")
    at_walkline = depth_at(narrow + given.walkline_from, each)
    at_narrow = depth_at(narrow, each)
    held = (
        judged_length(profile, "winder_walkline", at_walkline.depth),
        judged_length(profile, "winder_narrow", at_narrow.depth),
        judged_length(profile, "walkline_from", given.walkline_from),
        judged_length(profile, "clear_width", given.width),
    )
    wanted = least_of(profile, "winder_walkline")
    least = None if wanted is None else wanted / (2 * math.sin(each / 2))
    return WindersFigure(
        given=given,
        each=math.degrees(each),
        narrow=at_narrow,
        walkline=at_walkline,
        wide=depth_at(narrow + given.width, each),
        least_walkline_radius=least,
        judged=tuple(one for one in held if one is not None),
    )


def depth_at(radius: float, angle: float) -> DepthAt:
    """The depth between two nosings `angle` (radians) apart that meet a radius.

    >>> round(depth_at(18.0, math.pi / 6).depth, 3), round(depth_at(18.0, math.pi / 6).along, 3)
    (9.317, 9.425)
    """
    return DepthAt(radius, 2 * radius * math.sin(angle / 2), radius * angle)


def inner_radius(radius: float, width: float) -> float:
    """The radius of the narrow side; refuses a radius smaller than half the width."""
    if radius < width / 2:
        raise BadFigure("stairs.radius_too_small", field="radius")
    return radius - width / 2


def turn_of(turn: float) -> float:
    """A turn in degrees, more than none and at most twice around."""
    if not (math.isfinite(turn) and 0 < turn <= MOST_TURN):
        raise BadFigure("stairs.turn", field="turn", most=int(MOST_TURN))
    return turn
