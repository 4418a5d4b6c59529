"""Commands that move rows about: listed elsewhere, copied, split, merged; sides and layers too."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class MoveActivity(Command):
    """An activity listed right behind another of its detail; None: at the top.

    Only where it is listed: what comes after what stays, and so do all dates.
    """

    activity_id: str
    behind_id: str | None


@dataclass(frozen=True, kw_only=True)
class MoveActivities(Command):
    """Activities of one or several details listed in another, behind `behind_id` (None: the last).

    What comes after what stays. What they do to layers goes over to the layers of the same name.
    """

    activity_ids: tuple[str, ...]
    to_detail_id: str
    behind_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class CopyActivities(Command):
    """Copies with their checks and what they do to layers, behind `behind_id` (None: the last).

    `id` is where the ids of the copies begin.
    """

    id: str
    activity_ids: tuple[str, ...]
    to_detail_id: str
    behind_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class SplitActivity(Command):
    """A task in two, one right after the other; the first keeps the row, `id` is the second's.

    `second_work` None: what the first leaves of the whole. `parts`: layer id -> the parts that the
    first does; the second does the rest of them.
    """

    id: str
    activity_id: str
    name: str
    work: int
    second_name: str
    second_work: int | None = None
    parts: Mapping[str, tuple[int, ...]] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class MergeActivities(Command):
    """Two tasks of one crew made one, which keeps the row of the earlier.

    `name` empty: the earlier's. `work` None: that of both together.
    """

    first_id: str
    second_id: str
    name: str = ""
    work: int | None = None


@dataclass(frozen=True, kw_only=True)
class ChangeSide(Command):
    """Another name of a side, shown behind another of its detail; None: as the first."""

    side_id: str
    name: str
    behind_id: str | None


@dataclass(frozen=True, kw_only=True)
class EndSide(Command):
    """A side that has no layers (any more)."""

    side_id: str


@dataclass(frozen=True, kw_only=True)
class MoveLayer(Command):
    """A layer right over another of its side (None: at the bearing side), with what lies in it."""

    layer_id: str
    over_id: str | None
