"""A pattern: the sides, layers, chain and checks of a kind of detail, ready to copy and edit.

Things in a pattern are called by keys, plain words that only count inside it. Trades, roles and
ways stay open ("plaster", "engineer", "old stair"): whoever copies the pattern says who and what
they are. `tag` says where a number comes from: "P" common practice, "M" from memory of a published
figure. Lengths are inches; times are minutes, counted as in `world.Activity`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

NO_ROLES = ("super", "authority")
"""Whose OK to cover needs no role to be filled: the super's, and that of an outside look."""


@dataclass(frozen=True, kw_only=True)
class PatternLayer:
    """One layer of a side; see `world.Layer`. `within` is the key of the layer it lies within."""

    key: str
    name: str
    material: str
    thickness: Fraction | None = None
    part_name: str = ""
    parts: int = 0
    within: str = ""
    passes_through: bool = False
    must_be_seen: bool = False
    finished: bool = False
    powered: bool = False
    tag: str = "P"


@dataclass(frozen=True, kw_only=True)
class PatternSide:
    """A face of the detail, its layers from the bearing side to the room side."""

    name: str
    layers: tuple[PatternLayer, ...]


@dataclass(frozen=True, kw_only=True)
class PatternDependency:
    """What an activity comes after; see `world.Dependency`."""

    before: str
    type: str = "FS"
    lag: int = 0
    lag_on: str = "clock"
    most: int | None = None
    tag: str = "P"


@dataclass(frozen=True, kw_only=True)
class PatternAsk:
    """A number or a question that a check asks for; see `world.Ask`.

    With `each` it is asked once for every part of the check, with `part` of that part alone.
    """

    label: str
    unit: str = "in"
    each: bool = False
    part: int | None = None
    nominal: Fraction | None = None
    low: Fraction | None = None
    high: Fraction | None = None
    far_low: Fraction | None = None
    far_high: Fraction | None = None
    tag: str = "P"


@dataclass(frozen=True, kw_only=True)
class PatternCheck:
    """What is looked at before it disappears; see `world.HoldPoint`.

    `marks` is a trade. `releases` is a role; "authority" is an outside look that the super
    records. `witness` is an invited look that stops nobody. `source` says where a published figure
    among its numbers stands.
    """

    what: str
    datum: str = ""
    tool: str = ""
    photos: int = 0
    photo_note: str = ""
    marks: str = ""
    releases: str = "super"
    witness: bool = False
    own_mark_ok: bool = False
    notice: int = 0
    looks_at: tuple[str, ...] = ()
    part_name: str = "No."
    parts: int = 0
    asks: tuple[PatternAsk, ...] = ()
    source: str = ""
    tag: str = "P"

    @property
    def is_a_roles(self) -> bool:
        """Whether a role says OK to cover: neither the super nor an outside look."""
        return self.releases not in NO_ROLES


@dataclass(frozen=True, kw_only=True)
class PatternActivity:
    """One activity of the chain; see `world.Activity`.

    `who` and `along` are trades, `owes` is the role that owes a decision. `off_site` is work in a
    shop or an office: it stands in no place of the house. `opens_way`, `closes_way` and `way_in`
    name ways in words, `hours` a calendar of its own. `puts_in`, `covers`, `opens`, `needs_open`:
    key of a layer -> parts (none: all of it). `sample` is the key of the decision that accepts
    what it must match.
    """

    key: str
    kind: str
    name: str
    work: int = 0
    low: int | None = None
    high: int | None = None
    note: str = ""
    who: str = ""
    along: tuple[str, ...] = ()
    owes: str = ""
    after: tuple[PatternDependency, ...] = ()
    off_site: bool = False
    hours: str = ""
    one_day: bool = False
    overhead: bool = False
    wet: bool = False
    dirty: bool = False
    hot: bool = False
    heavy: bool = False
    opens_way: str = ""
    closes_way: str = ""
    way_in: str = ""
    edge: str = ""
    closes_place: bool = False
    finish_wood: bool = False
    shakes: bool = False
    stuff: str = ""
    fire_watch: bool = False
    circuit: str = ""
    sample: str = ""
    carries_datum: bool = False
    measured_from: str = ""
    review: int = 0
    puts_in: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    covers: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    opens: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    needs_open: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    check: PatternCheck | None = None
    tag: str = "P"


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """A whole pattern. `about` is what it is for, `source` where its numbers come from."""

    id: str
    name: str
    about: str
    source: str
    sides: tuple[PatternSide, ...]
    chain: tuple[PatternActivity, ...]

    @property
    def layers(self) -> tuple[PatternLayer, ...]:
        """The layers of all sides."""
        return tuple(layer for side in self.sides for layer in side.layers)

    @property
    def trades(self) -> tuple[str, ...]:
        """The trades that it needs, in the order in which they first come."""
        named = (
            trade
            for a in self.chain
            for trade in (a.who, *a.along, a.check.marks if a.check else "")
        )
        return tuple(dict.fromkeys(trade for trade in named if trade))

    @property
    def roles(self) -> tuple[str, ...]:
        """Who owes its decisions and releases its checks; the super's and outside looks apart."""
        named = (
            role
            for a in self.chain
            for role in (a.owes, a.check.releases if a.check and a.check.is_a_roles else "")
        )
        return tuple(role for role in dict.fromkeys(named) if role)

    @property
    def ways(self) -> tuple[str, ...]:
        """The ways up and out that its tasks open or close, or that long pieces come in by."""
        named = (way for a in self.chain for way in (a.opens_way, a.closes_way, a.way_in))
        return tuple(way for way in dict.fromkeys(named) if way)

    @property
    def hours(self) -> tuple[str, ...]:
        """The calendars of their own that activities keep to."""
        return tuple(dict.fromkeys(a.hours for a in self.chain if a.hours))

    def count(self, kind: str) -> int:
        """How many activities of a kind its chain has."""
        return sum(a.kind == kind for a in self.chain)
