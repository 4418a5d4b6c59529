"""Hold points: what is looked at before it disappears, each attempt, its numbers and photos."""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class HoldPoint(OfProject):
    """The check that belongs to an activity of kind "hold".

    `datum` is what it is measured from, `tool` with what. `photos` is how many are asked for.
    `marks_crew_id` marks it ready to look at; `releases_id` (a person) releases it; `authority`
    means an outside look, recorded by the super with the inspector's name. `witness`: invited,
    stops nobody. `notice` is clock minutes between the call and the look.
    `layer_ids` are the layers it looks at; `parts` how many parts can be released one by one.
    `source` says where a published figure among its numbers stands.
    """

    activity_id: str
    what: str
    datum: str = ""
    tool: str = ""
    photos: int = 0
    photo_note: str = ""
    marks_crew_id: str | None = None
    releases_id: str | None = None
    authority: bool = False
    witness: bool = False
    own_mark_ok: bool = False
    notice: int = 0
    called: datetime | None = None
    layer_ids: tuple[str, ...] = ()
    part_name: str = "No."
    parts: int = 0
    source: str = ""
    tag: str = ""


@dataclass(frozen=True, kw_only=True)
class Ask(OfProject):
    """One number (or yes/no) a hold point asks for, with two tolerance bands.

    Limits are absolute values in `unit`, included; None is open on that side. Outside `low` to
    `high` but inside `far_low` to `far_high`: put right. Outside both: ask. Unit "yes" is a
    question answered yes or no (1 or 0).
    """

    hold_id: str
    order: int
    label: str
    unit: str = "in"
    part: int | None = None
    nominal: Fraction | None = None
    low: Fraction | None = None
    high: Fraction | None = None
    far_low: Fraction | None = None
    far_high: Fraction | None = None
    tag: str = ""


@dataclass(frozen=True, kw_only=True)
class Attempt(OfProject):
    """One time a hold point was marked ready to look at, and what came of it.

    `parts` is what it is about (empty: all). `state`: "marked", "released", "look again",
    "rejected", "opened again". A release names `left_out`, the parts that are not OK to cover.
    """

    hold_id: str
    no: int
    state: str
    marked_by_id: str
    marked_at: datetime
    parts: tuple[int, ...] = ()
    note: str = ""
    decided_by_id: str | None = None
    decided_at: datetime | None = None
    inspector: str = ""
    left_out: tuple[int, ...] = ()
    again_by: datetime | None = None
    reason: str = ""
    opened_by_id: str | None = None
    opened_at: datetime | None = None
    opened_reason: str = ""
    sheet_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class Measurement(OfProject):
    """A number as it was typed, and its value in the ask's unit."""

    attempt_id: str
    ask_id: str
    typed: str
    value: Fraction


@dataclass(frozen=True, kw_only=True)
class Photo(OfProject):
    """A photo kept on disk by its hash. A draft has no attempt until a mark names it."""

    sha256: str
    width: int
    height: int
    by_id: str
    at: datetime
    taken: datetime | None = None
    hold_id: str | None = None
    attempt_id: str | None = None
    note: str = ""
