"""Risers before and after the finishes: rough cuts, packing that evens them, and measured ones.

Every surface is measured from the rough floor below, the tape held plumb: tread k of a finished
stair stands k risers above the finished floor, and its rough surface is a tread's build-up lower.
All lengths of one call are in one unit.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from server.core.figures.base import BadFigure, Judged, Profile
from server.core.figures.lengths import judged_length, length

MOST_RISERS = 60


def rough_surfaces(
    total_rise: float, count: int, tread: float, floor_below: float, floor_above: float
) -> tuple[float, ...]:
    """Heights of rough treads 1 to count - 1 and of the rough floor above, over the rough floor.

    `total_rise` is finished floor to finished floor; `tread`, `floor_below` and `floor_above` are
    the thicknesses that come on top of each rough surface. Raises `BadFigure`.
    """
    length(total_rise, "total_rise")
    for value, field in ((tread, "tread"), (floor_below, "floor_below"),
                         (floor_above, "floor_above")):  # fmt: skip
        length(value, field, zero=True)
    if not 1 <= count <= MOST_RISERS:
        raise BadFigure("stairs.count", field="count", most=MOST_RISERS)
    riser = total_rise / count
    treads = tuple(k * riser - tread + floor_below for k in range(1, count))
    top = total_rise - floor_above + floor_below
    surfaces = (*treads, top)
    if any(high <= low for low, high in pairwise((0.0, *surfaces))):
        raise BadFigure("stairs.finish_too_thick", field="tread")
    return surfaces


def risers(
    total_rise: float, count: int, tread: float, floor_below: float, floor_above: float
) -> tuple[float, ...]:
    """Heights of the rough risers, the lowest first, so that the finished ones are all alike.

    With finished riser R the first is R + floor_below - tread, the last R - floor_above + tread,
    and the rest R.

    >>> risers(105, 14, 1, 0.75, 0.75)[:2], risers(105, 14, 1, 0.75, 0.75)[-1]
    ((7.25, 7.5), 7.75)
    """
    surfaces = rough_surfaces(total_rise, count, tread, floor_below, floor_above)
    return tuple(high - low for low, high in pairwise((0.0, *surfaces)))


@dataclass(frozen=True)
class Packing:
    """What is laid on the rough surfaces so that they make an even stair until the finishes come.

    `treads` are from the lowest; `riser` is every riser then.
    """

    below: float
    treads: tuple[float, ...]
    above: float
    riser: float

    @property
    def needed(self) -> bool:
        """Whether there is anything to lay: a thousandth is nothing."""
        return max((self.below, self.above, *self.treads)) > 1e-3


def packing(
    total_rise: float, count: int, tread: float, floor_below: float, floor_above: float
) -> Packing:
    """Packing for temporary use, nowhere below zero: nothing can be taken off a rough surface.

    A floor is packed only where its finish is thicker than a tread's; then the treads follow an
    even rise from the packed floor below to the packed floor above.
    """
    surfaces = rough_surfaces(total_rise, count, tread, floor_below, floor_above)
    below, above = max(0.0, floor_below - tread), max(0.0, floor_above - tread)
    riser = (surfaces[-1] + above - below) / count
    treads = tuple(below + k * riser - rough for k, rough in enumerate(surfaces[:-1], 1))
    return Packing(below, tuple(max(0.0, one) for one in treads), above, riser)


@dataclass(frozen=True)
class Uniformity:
    """Measured risers held against the most that they may differ; numbers count from the bottom.

    `between` is the largest difference between two that follow each other.
    """

    largest: float
    largest_at: int
    smallest: float
    smallest_at: int
    difference: float
    between: float
    mean: float
    judged: tuple[Judged, ...]


def uniformity(measured: Sequence[float], profile: Profile) -> Uniformity:
    """Largest less smallest of the risers of one flight, in inches. Raises `BadFigure`."""
    if len(measured) < 2:
        raise BadFigure("stairs.two_risers", field="measured")
    for value in measured:
        length(value, "measured")
    largest, smallest = max(measured), min(measured)
    difference = largest - smallest
    held = (
        judged_length(profile, "riser_variation", difference),
        judged_length(profile, "temporary_riser_variation", difference),
        judged_length(profile, "riser", largest, "riser_largest"),
        judged_length(profile, "riser", smallest, "riser_smallest"),
    )
    return Uniformity(
        largest=largest,
        largest_at=measured.index(largest) + 1,
        smallest=smallest,
        smallest_at=measured.index(smallest) + 1,
        difference=difference,
        between=max(abs(high - low) for low, high in pairwise(measured)),
        mean=sum(measured) / len(measured),
        judged=tuple(one for one in held if one is not None),
    )
