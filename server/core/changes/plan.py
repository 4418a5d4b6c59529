"""Commands that build a detail: layers, activities, dependencies, what tasks do, checks."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import datetime
from fractions import Fraction

from server.core.changes.base import Command
from server.core.patterns import Pattern
from server.core.world import Ask


@dataclass(frozen=True, kw_only=True)
class AddDetail(Command):
    """An empty detail."""

    id: str
    name: str
    sheet: str
    place_id: str | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class AddDetailFromPattern(Command):
    """A detail with the sides, layers, chain and checks of a pattern.

    `content` is the whole pattern, so that the rule needs no file. `crews`, `people`, `ways`
    and `calendars` map its trades, roles, ways and hours to ids; one that is left out stays open:
    its tasks have nobody yet, its checks are the super's. The new rows get ids made from `id`.
    `copy_of` is the name of the detail that `content` was taken from, where it is a copy.
    """

    id: str
    name: str
    sheet: str
    content: Pattern
    place_id: str | None = None
    crews: Mapping[str, str] = field(default_factory=dict)
    people: Mapping[str, str] = field(default_factory=dict)
    ways: Mapping[str, str] = field(default_factory=dict)
    calendars: Mapping[str, str] = field(default_factory=dict)
    not_before: datetime | None = None
    copy_of: str = ""


@dataclass(frozen=True, kw_only=True)
class ChangeDetail(Command):
    """Another name, sheet, place or note."""

    detail_id: str
    name: str
    sheet: str
    place_id: str | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class EndDetail(Command):
    """A detail that is not built (any more)."""

    detail_id: str
    reason: str


@dataclass(frozen=True, kw_only=True)
class AddSide(Command):
    """A face of a detail."""

    id: str
    detail_id: str
    name: str


@dataclass(frozen=True, kw_only=True)
class LayerFacts:
    """What is said of a layer when it is added or changed; see `world.Layer`."""

    name: str
    material: str
    thickness: Fraction | None = None
    part_name: str = ""
    parts: int = 0
    within_id: str | None = None
    passes_through: bool = False
    must_be_seen: bool = False
    finished: bool = False
    powered: bool = False


@dataclass(frozen=True, kw_only=True)
class AddLayer(Command):
    """A layer on a side, over `over_id` (None: at the bearing side)."""

    id: str
    side_id: str
    facts: LayerFacts
    over_id: str | None = None


@dataclass(frozen=True, kw_only=True)
class ChangeLayer(Command):
    """Other facts of a layer."""

    layer_id: str
    facts: LayerFacts


@dataclass(frozen=True, kw_only=True)
class EndLayer(Command):
    """A layer that is not put in."""

    layer_id: str


@dataclass(frozen=True, kw_only=True)
class ActivityFacts:
    """What is said of an activity when it is added or changed; see `world.Activity`.

    `puts_in`, `covers`, `opens`, `needs_open`: layer id -> parts (empty: all of it).
    """

    name: str
    kind: str = "task"
    work: int = 0
    low: int | None = None
    high: int | None = None
    note: str = ""
    crew_id: str | None = None
    with_crew_ids: tuple[str, ...] = ()
    person_id: str | None = None
    place_id: str | None = None
    calendar_id: str | None = None
    not_before: datetime | None = None
    finish_by: datetime | None = None
    one_day: bool = False
    overhead: bool = False
    wet: bool = False
    dirty: bool = False
    hot: bool = False
    heavy: bool = False
    opens_way_id: str | None = None
    closes_way_id: str | None = None
    edge: str = ""
    closes_place: bool = False
    finish_wood: bool = False
    shakes: bool = False
    stuff: str = ""
    fire_watch: bool = False
    circuit: str = ""
    temporary: str = ""
    temporary_id: str | None = None
    way_in_id: str | None = None
    sample_id: str | None = None
    sheet_id: str | None = None
    carries_datum: bool = False
    measured_from_id: str | None = None
    review: int = 0
    puts_in: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    covers: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    opens: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    needs_open: Mapping[str, tuple[int, ...]] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class AskFacts:
    """One number or question a check asks for; see `world.Ask`."""

    label: str
    unit: str = "in"
    part: int | None = None
    nominal: Fraction | None = None
    low: Fraction | None = None
    high: Fraction | None = None
    far_low: Fraction | None = None
    far_high: Fraction | None = None

    @classmethod
    def of(cls, ask: Ask) -> "AskFacts":
        """What is said of an ask that there is."""
        return cls(**{field.name: getattr(ask, field.name) for field in fields(cls)})


@dataclass(frozen=True, kw_only=True)
class CheckFacts:
    """What is said of a check beside its activity; see `world.HoldPoint`."""

    what: str
    datum: str = ""
    tool: str = ""
    photos: int = 0
    photo_note: str = ""
    source: str = ""
    marks_crew_id: str | None = None
    releases_id: str | None = None
    authority: bool = False
    witness: bool = False
    own_mark_ok: bool = False
    notice: int = 0
    layer_ids: tuple[str, ...] = ()
    part_name: str = "No."
    parts: int = 0
    asks: tuple[AskFacts, ...] = ()


@dataclass(frozen=True, kw_only=True)
class AddActivity(Command):
    """An activity in a detail's chain, listed behind `behind_id` (None: at the end).

    `after` are ids of activities it comes after, each finish to start with no time between. A
    check (kind "hold") carries `check`; its hold point gets the id `hold_id`.
    """

    id: str
    detail_id: str
    facts: ActivityFacts
    behind_id: str | None = None
    after: tuple[str, ...] = ()
    hold_id: str | None = None
    check: CheckFacts | None = None


@dataclass(frozen=True, kw_only=True)
class ChangeActivity(Command):
    """Other facts of an activity (its kind stays), and of its check."""

    activity_id: str
    facts: ActivityFacts
    check: CheckFacts | None = None


@dataclass(frozen=True, kw_only=True)
class EndActivity(Command):
    """An activity leaves the chain; what came before it still comes before what came after."""

    activity_id: str
    reason: str = ""


@dataclass(frozen=True, kw_only=True)
class AddDependency(Command):
    """A before B. Lag and `most` are minutes."""

    id: str
    before_id: str
    after_id: str
    type: str = "FS"
    lag: int = 0
    lag_on: str = "clock"
    most: int | None = None


@dataclass(frozen=True, kw_only=True)
class ChangeDependency(Command):
    """Another type or time between."""

    dependency_id: str
    type: str = "FS"
    lag: int = 0
    lag_on: str = "clock"
    most: int | None = None


@dataclass(frozen=True, kw_only=True)
class EndDependency(Command):
    """A dependency that does not hold."""

    dependency_id: str
