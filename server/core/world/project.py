"""One house under construction: floors, places where people stand, the ways up, who may look."""

from dataclasses import dataclass
from datetime import datetime

from server.core.world.company import OfCompany
from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class Project(OfCompany):
    """A house. `start` and all its datetimes are wall-clock time in `time_zone`."""

    name: str
    time_zone: str
    start: datetime
    calendar_id: str
    about: str = ""
    ended: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Floor(OfProject):
    """A level of the house; `order` counts from the lowest."""

    name: str
    order: int


@dataclass(frozen=True, kw_only=True)
class Place(OfProject):
    """A part of the stairwell where people stand: room for so many crews, open to which below."""

    name: str
    floor_id: str
    order: int = 0
    room_for: int = 1
    open_to: tuple[str, ...] = ()
    """Ids of the places that something dropped here would reach."""
    air: str = ""
    """A name for air that is kept apart: places of one name share it; "" is the rest."""


@dataclass(frozen=True, kw_only=True)
class Way(OfProject):
    """A way up and out between two floors. A ladder has `carries` False."""

    name: str
    lower_id: str
    upper_id: str
    carries: bool = True
    opened: datetime | None = None
    closed: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class Given(OfProject):
    """What a person may look at in a project: all details, or those named."""

    person_id: str
    detail_ids: tuple[str, ...] = ()
