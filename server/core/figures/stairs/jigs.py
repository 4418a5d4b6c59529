"""Jigs and easings: ordinates of an arc from its chord, and an arc from the rake to level. Inches.

Plain trigonometry; nothing here is held against a limit.
"""

import math
from dataclasses import dataclass

from server.core.figures.base import BadFigure
from server.core.figures.lengths import length

MOST_ORDINATES = 49
STEEPEST = 80.0


@dataclass(frozen=True)
class Ordinate:
    """A point of the arc: how far along the chord from its middle, and how far square off it."""

    along: float
    off: float


@dataclass(frozen=True)
class Jig:
    """An arc of `radius` over `chord`: its rise in the middle, its length, and its ordinates.

    `angle` is what the arc turns, in degrees. Ordinates go from the middle to one end; the other
    half is the same.
    """

    radius: float
    chord: float
    rise: float
    length: float
    angle: float
    ordinates: tuple[Ordinate, ...]


def jig(radius: float, chord: float, spacing: float) -> Jig:
    """The ordinates of an arc at even spacing from the middle of its chord. Raises `BadFigure`.

    >>> found = jig(60.0, 96.0, 12.0)
    >>> found.rise, [round(one.off, 3) for one in found.ordinates]
    (24.0, [24.0, 22.788, 18.991, 12.0, 0.0])
    """
    length(radius, "radius")
    length(chord, "chord")
    length(spacing, "spacing")
    half = chord / 2
    if half > radius:
        raise BadFigure("stairs.chord_too_long", field="chord")
    if half / spacing > MOST_ORDINATES - 1:
        raise BadFigure("stairs.too_many_ordinates", field="spacing", most=MOST_ORDINATES)
    to_chord = math.sqrt(radius**2 - half**2)
    whole = math.floor(half / spacing + 1e-9)
    at = [n * spacing for n in range(whole + 1)]
    if half - at[-1] > 1e-9:
        at.append(half)
    ordinates = tuple(
        Ordinate(x, max(0.0, math.sqrt(max(0.0, radius**2 - x**2)) - to_chord)) for x in at
    )
    angle = 2 * math.asin(min(1.0, half / radius))
    return Jig(radius, chord, radius - to_chord, radius * angle, math.degrees(angle), ordinates)


@dataclass(frozen=True)
class Easing:
    """An arc that carries a rail from the rake to level.

    `tangent` is the distance from where the two lines meet to either end of the arc, `length` along
    it, `run` level and `climb` plumb from one end to the other.
    """

    radius: float
    pitch: float
    tangent: float
    length: float
    run: float
    climb: float
    rise_off_corner: float


def easing(pitch: float, radius: float) -> Easing:
    """The easing of a radius between a rake of `pitch` degrees and level. Raises `BadFigure`.

    `rise_off_corner` is how near the arc comes to where the straight lines would meet.

    >>> found = easing(36.87, 12.0)
    >>> round(found.tangent, 2), round(found.length, 2), round(found.climb, 2)
    (4.0, 7.72, 2.4)
    """
    length(radius, "easing")
    if not (math.isfinite(pitch) and 0 < pitch <= STEEPEST):
        raise BadFigure("stairs.pitch_range", field="pitch", most=int(STEEPEST))
    angle = math.radians(pitch)
    return Easing(
        radius=radius,
        pitch=pitch,
        tangent=radius * math.tan(angle / 2),
        length=radius * angle,
        run=radius * math.sin(angle),
        climb=radius * (1 - math.cos(angle)),
        rise_off_corner=radius * (1 / math.cos(angle / 2) - 1),
    )
