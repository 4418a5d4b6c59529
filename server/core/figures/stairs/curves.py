"""Rails and guards around a turn: developed length, pitch and bend at any radius. Inches.

A rail that climbs evenly around a center is a helix; on the flat sheet it is a straight slope.
"""

import math
from dataclasses import dataclass

from server.core.figures.lengths import length
from server.core.figures.stairs.winders import turn_of


@dataclass(frozen=True)
class Developed:
    """A line at one radius that turns and climbs.

    `plan` is its length seen from above, `length` along the slope, `pitch` in degrees, `bend` the
    radius that it is bent to on its own slope: larger than in plan.
    """

    radius: float
    plan: float
    length: float
    pitch: float
    bend: float


def developed(radius: float, turn: float, climb: float) -> Developed:
    """The line at `radius` that turns `turn` degrees and climbs `climb`. Raises `BadFigure`.

    Bend is plan radius / cos² of the pitch, the radius of curvature of a helix.

    >>> found = developed(36.0, 90.0, 42.0)
    >>> round(found.plan, 2), round(found.length, 2), round(found.pitch, 1), round(found.bend, 2)
    (56.55, 70.44, 36.6, 55.86)
    """
    length(radius, "radius")
    turn_of(turn)
    length(climb, "climb", zero=True)
    plan = radius * math.radians(turn)
    pitch = math.atan2(climb, plan)
    return Developed(
        radius=radius,
        plan=plan,
        length=math.hypot(plan, climb),
        pitch=math.degrees(pitch),
        bend=radius / math.cos(pitch) ** 2,
    )
