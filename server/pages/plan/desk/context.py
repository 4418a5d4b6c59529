"""What the desk prints: the rows of cells with their dates, and the layers of each side."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from markupsafe import Markup

from server.core.refusals import Message
from server.pages.shared.buildup import SideShown
from server.pages.shared.notes import NoteShown
from server.pages.shared.undoing import UndoShown

NEW = "new"
LABELS = {
    "who": "Who", "does": "Does what", "takes": "Takes", "after": "After",
    "puts_in": "Puts in", "hides": "Hides", "looked_at": "Looked at by",
}  # fmt: skip
SHORT = {
    "task": "",
    "wait": "wait",
    "hold": "check",
    "delivery": "delivery",
    "decision": "decision",
}
OF_ONE_KIND = {
    ("hold", "who"): "Marked ready by",
    ("hold", "puts_in"): "Looks at",
    ("decision", "who"): "Who owes it",
}
LAYER_LABELS = {
    "name": "What", "material": "Of what", "thickness": "Inches", "parts": "Parts",
    "also": "And",
}  # fmt: skip


@dataclass(frozen=True)
class Refused:
    """What was typed into one row or layer and not taken: texts, and what is wrong by column."""

    id: str
    typed: Mapping[str, str] = field(default_factory=dict)
    wrong: Mapping[str, tuple[Message, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class Cell:
    """One cell: what is kept, what stands in its box, and what is wrong with that."""

    id: str
    column: str
    label: str
    saved: str
    typed: str
    wrong: tuple[Message, ...] = ()


@dataclass(frozen=True)
class RowShown:
    """One activity; `cells` by column, without those that its kind has not."""

    id: str
    number: int
    kind: str
    kind_said: str
    name: str
    called: str
    """Its name, with what tells it from others of that name."""
    cells: Mapping[str, Cell]
    dates: str
    spare: str
    sets_finish: bool
    done: bool
    beside: Mapping[str, tuple[str, ...]]
    notes: tuple[tuple[int, Markup], ...]


@dataclass(frozen=True)
class LayerShown:
    """One layer of a side."""

    id: str
    called: str
    cells: Mapping[str, Cell]


@dataclass(frozen=True)
class SideEdited:
    """A side: its drawing, if it has layers, and its layers from the room side."""

    id: str
    name: str
    drawn: SideShown | None
    layers: tuple[LayerShown, ...]
    new: LayerShown
    new_wrong: tuple[Message, ...] = ()


@dataclass(frozen=True)
class NewRow:
    """The row that is not there yet. It starts out as coming after the last."""

    cells: Mapping[str, Cell]
    kind: str
    behind: str


@dataclass(frozen=True)
class Desk:
    """The plan of one detail, to be typed in."""

    detail_id: str
    name: str
    sheet: str
    house_id: str
    house: str
    finish: datetime | None
    last_id: str
    house_finish: datetime
    too_long: tuple[str, ...]
    columns: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    rows: tuple[RowShown, ...]
    new: NewRow
    sides: tuple[SideEdited, ...]
    side_typed: str
    side_wrong: tuple[Message, ...]
    notes: tuple[NoteShown, ...]
    undo: UndoShown
    whole: tuple[Message, ...]
    project_id: str
    back: str
    standing: str
