"""Commands at a check: call, mark, OK to cover, look again, reject, open again, photos."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class CallForLook(Command):
    """Somebody was called to come and look (an outside inspection, the engineer)."""

    hold_id: str
    called: datetime


@dataclass(frozen=True, kw_only=True)
class AddPhoto(Command):
    """A photo that the server has taken in; a draft until a mark names it."""

    id: str
    hold_id: str
    sha256: str
    width: int
    height: int
    taken: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class DropPhoto(Command):
    """A draft photo taken away again by the person who took it."""

    photo_id: str


@dataclass(frozen=True, kw_only=True)
class Mark(Command):
    """Ready to look at: the numbers as typed (ask id -> text), the photos, for which parts."""

    id: str
    hold_id: str
    numbers: Mapping[str, str] = field(default_factory=dict)
    photo_ids: tuple[str, ...] = ()
    parts: tuple[int, ...] = ()
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Release(Command):
    """OK to cover: all, or all but the parts left out. A number out of tolerance needs a reason."""

    hold_id: str
    left_out: tuple[int, ...] = ()
    reason: str = ""
    inspector: str = ""


@dataclass(frozen=True, kw_only=True)
class LookAgain(Command):
    """Put right and looked at again by a time; dates do not move."""

    hold_id: str
    by: datetime
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class Reject(Command):
    """Not OK: this attempt closes; a rework task of `rework` minutes comes before the next."""

    hold_id: str
    rework_id: str
    reason: str
    rework: int


@dataclass(frozen=True, kw_only=True)
class OpenAgain(Command):
    """A released check opened again, with a reason."""

    hold_id: str
    reason: str
