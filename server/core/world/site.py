"""What stands around the chain: drawings, temporary works, readings, accepted warnings."""

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class Sheet(OfProject):
    """A drawing of a detail with its number and revision; `replaced_id` names the newer one."""

    detail_id: str
    number: str
    revision: str
    title: str = ""
    dated: date | None = None
    replaced_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class TemporaryWork(OfProject):
    """A shore, stair, rail, cover, deck, scaffold or heat: in, looked at daily, out, whose."""

    kind: str
    name: str
    detail_id: str | None = None
    place_id: str | None = None
    crew_id: str | None = None
    daily: bool = True
    risers: int = 0
    """Of a stair."""
    rise: Fraction | None = None
    """Of a stair or a deck over what is below it, in inches."""
    put_in: datetime | None = None
    taken_out: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Look(OfProject):
    """One look at a temporary work."""

    temporary_id: str
    by_id: str
    at: datetime
    in_order: bool = True
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Reading(OfProject):
    """A measured value of air, wood or plaster: what ("air", "humidity", "wood", "plaster")."""

    place_id: str
    what: str
    value: Fraction
    unit: str
    by_id: str
    at: datetime
    where: str = ""


@dataclass(frozen=True, kw_only=True)
class AcceptedWarning(OfProject):
    """A warning the super accepted, with a reason and an end date; `warning` is its identity."""

    warning: str
    reason: str
    until: date
    by_id: str
    at: datetime
