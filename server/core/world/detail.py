"""A detail, the sides a person looks at, and the layers of each side."""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class Detail(OfProject):
    """An assembly built in place, with a page of its own. `sheet` is its mark on the drawings."""

    name: str
    sheet: str
    order: int = 0
    place_id: str | None = None
    pattern: str = ""
    note: str = ""
    ended: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Side(OfProject):
    """One face of a detail: stair side, landing side, soffit from below, top."""

    detail_id: str
    name: str
    order: int = 0


@dataclass(frozen=True, kw_only=True)
class Layer(OfProject):
    """One thing put in on a side. `order` runs from the bearing side to the room side.

    `thickness` is in inches. `parts` counts its pieces (bays 1 to 6), 0 where it has none.
    `within_id` names the layer it lies within; `passes_through` runs to the face. `must_be_seen`
    marks structure, services and fixings that nobody may cover unseen.
    """

    detail_id: str
    side_id: str
    order: int
    name: str
    material: str
    thickness: Fraction | None = None
    part_name: str = ""
    parts: int = 0
    within_id: str | None = None
    passes_through: bool = False
    must_be_seen: bool = False
    finished: bool = False
    """A finished face, to be kept clean and dry."""
    powered: bool = False
    """A circuit that is tried before it is covered."""
    tag: str = ""
    ended: datetime | None = None
