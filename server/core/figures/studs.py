"""Where along a wall something stands: on which stud, in which bay, or half over an edge."""

import math
from dataclasses import dataclass
from enum import StrEnum

from server.core.figures.base import BadFigure
from server.core.figures.lengths import length

_HAIR = 1e-9


class On(StrEnum):
    """What stands behind a point of the wall."""

    STUD = "stud"
    EDGE = "edge"
    BAY = "bay"


@dataclass(frozen=True, kw_only=True)
class Studs:
    """Studs at even centers; `first` is the middle of No. 1, `wide` a stud's width.

    `rod_wide` is what goes into the stud: nearer to an edge than that it is no place for it.
    """

    spacing: float = 16.0
    first: float = 0.0
    wide: float = 1.5
    rod_wide: float = 0.5

    def middle(self, no: int) -> float:
        """The middle of a stud; those short of the first are 0, -1, ..."""
        return self.first + (no - 1) * self.spacing


@dataclass(frozen=True)
class StudPlace:
    """`no` is the stud, or the one below a bay; `off` is from that stud's middle."""

    on: On
    no: int
    off: float


def place_on(studs: Studs, along: float) -> StudPlace:
    """What stands behind a point along the wall. The rod at an edge belongs to the nearer stud.

    Raises `BadFigure` for studs that leave no bay between them.

    >>> place_on(Studs(spacing=16, first=2), 20.0)
    StudPlace(on=<On.BAY: 'bay'>, no=2, off=2.0)
    """
    if length(studs.spacing, "stud_spacing") <= length(studs.wide, "stud_wide"):
        raise BadFigure("standoffs.studs", field="stud_spacing")
    length(abs(studs.first), "first_stud", zero=True)
    if not 0 <= studs.rod_wide <= studs.wide:
        raise BadFigure("standoffs.rod_wider", field="rod_wide")
    near = math.floor((along - studs.first) / studs.spacing + 0.5) + 1
    off = along - studs.middle(near)
    inside = (studs.wide - studs.rod_wide) / 2
    if abs(off) <= inside + _HAIR:
        return StudPlace(On.STUD, near, off)
    if abs(off) < (studs.wide + studs.rod_wide) / 2 - _HAIR:
        return StudPlace(On.EDGE, near, off)
    lower = near if off > 0 else near - 1
    return StudPlace(On.BAY, lower, along - studs.middle(lower))
