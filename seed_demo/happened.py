"""What can happen in the invented month. Times are "11-03 07:00", in 2025."""

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["Answered", "Came", "Detail", "Done", "Looked"]


@dataclass(frozen=True)
class Answered:
    """A decision answered."""

    key: str
    at: str
    answer: str


@dataclass(frozen=True)
class Done:
    """A task started, and finished unless it is still going on.

    `dead` is when the electrician had tried the circuit that was worked in.
    """

    key: str
    start: str
    finish: str = ""
    dead: str = ""


@dataclass(frozen=True)
class Came:
    """A delivery ordered, promised for a day, arrived and counted unless it is still to come.

    `stages` are its other stages: (stage, when).
    """

    key: str
    ordered: str
    promised: str
    arrived: str = ""
    note: str = ""
    stages: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Looked:
    """A check marked, then OK to cover, rejected or to be looked at again, or not looked at yet.

    `numbers` are those typed, by label or "label part"; the others are as they should be.
    `rework` is when the work of a rejection was done again; `called` when an outside look was
    called for; `opened` when and why a check that was OK was opened again before this mark.
    """

    key: str
    marked: str
    decided: str = ""
    verdict: str = "released"
    reason: str = ""
    numbers: Mapping[str, str] = field(default_factory=dict)
    rework: tuple[str, str] = ("", "")
    called: str = ""
    opened: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Detail:
    """A detail, the pattern it was copied from, and its month."""

    id: str
    name: str
    sheet: str
    pattern: str
    place: str
    added: str
    month: tuple[Answered | Done | Came | Looked, ...]
