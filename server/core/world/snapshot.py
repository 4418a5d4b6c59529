"""The frozen snapshot of a project: every noun of it, and what it shares with its company.

A rule takes a snapshot and gives back another; the store writes the difference. So the ripple that
is shown, the mend that is tried and the change that is made are one and the same function.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from operator import attrgetter
from typing import Any, TypeVar, cast

from server.core.schedule import Schedule
from server.core.world.chain import Activity, Dependency, Effect
from server.core.world.company import Company, Crew, Person, WorkCalendar
from server.core.world.detail import Detail, Layer, Side
from server.core.world.holds import Ask, Attempt, HoldPoint, Measurement, Photo
from server.core.world.kept import Cause, DayFinish
from server.core.world.noun import Noun
from server.core.world.project import Floor, Given, Place, Project, Way
from server.core.world.site import AcceptedWarning, Look, Reading, Sheet, TemporaryWork
from server.core.world.visits import Agreed, Booking, Telling

N = TypeVar("N", bound=Noun)

TABLES: Mapping[type[Noun], str] = {
    Company: "companies",
    WorkCalendar: "calendars",
    Crew: "crews",
    Person: "people",
    Project: "projects",
    Floor: "floors",
    Place: "places",
    Way: "ways",
    Given: "given",
    Detail: "details",
    Side: "sides",
    Layer: "layers",
    Activity: "activities",
    Dependency: "dependencies",
    Effect: "effects",
    HoldPoint: "holds",
    Ask: "asks",
    Attempt: "attempts",
    Measurement: "measurements",
    Photo: "photos",
    Booking: "bookings",
    Agreed: "agreed",
    Telling: "tellings",
    DayFinish: "finishes",
    Cause: "causes",
    Sheet: "sheets",
    TemporaryWork: "temporary",
    Look: "looks",
    Reading: "readings",
    AcceptedWarning: "accepted",
}
"""Every noun and the table of the snapshot that holds it, parents before children."""

MADE_OF: Mapping[str, tuple[str, ...]] = {
    "chain": ("activities", "details"),
    "_chains": ("activities", "details"),
    "hold_of": ("holds",),
    "attempts_of": ("attempts",),
    "asks_of": ("asks",),
    "measurements_of": ("measurements",),
    "effects_of": ("effects",),
    "effects_on": ("effects",),
    "within": ("layers",),
    "looking_at": ("holds", "activities", "details"),
    "kept_reach": ("activities", "details", "dependencies"),
    "before": ("dependencies",),
    "after": ("dependencies",),
    "forecasts": (
        "activities", "dependencies", "holds", "crews", "calendars", "details", "projects",
    ),
    "drawn_up": ("crews", "calendars", "projects"),
}  # fmt: skip
"""What is worked out of a snapshot, and the tables that it is made of."""


@dataclass(frozen=True, kw_only=True)
class Snapshot:
    """A company and one project of it (or none yet), each table a mapping id -> noun.

    Tables keep the order of the rows: by `order` where the noun has one, else by id.
    """

    company_revision: int = 0
    project_revision: int = 0
    companies: Mapping[str, Company] = field(default_factory=dict)
    calendars: Mapping[str, WorkCalendar] = field(default_factory=dict)
    crews: Mapping[str, Crew] = field(default_factory=dict)
    people: Mapping[str, Person] = field(default_factory=dict)
    projects: Mapping[str, Project] = field(default_factory=dict)
    floors: Mapping[str, Floor] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)
    ways: Mapping[str, Way] = field(default_factory=dict)
    given: Mapping[str, Given] = field(default_factory=dict)
    details: Mapping[str, Detail] = field(default_factory=dict)
    sides: Mapping[str, Side] = field(default_factory=dict)
    layers: Mapping[str, Layer] = field(default_factory=dict)
    activities: Mapping[str, Activity] = field(default_factory=dict)
    dependencies: Mapping[str, Dependency] = field(default_factory=dict)
    effects: Mapping[str, Effect] = field(default_factory=dict)
    holds: Mapping[str, HoldPoint] = field(default_factory=dict)
    asks: Mapping[str, Ask] = field(default_factory=dict)
    attempts: Mapping[str, Attempt] = field(default_factory=dict)
    measurements: Mapping[str, Measurement] = field(default_factory=dict)
    photos: Mapping[str, Photo] = field(default_factory=dict)
    bookings: Mapping[str, Booking] = field(default_factory=dict)
    agreed: Mapping[str, Agreed] = field(default_factory=dict)
    tellings: Mapping[str, Telling] = field(default_factory=dict)
    finishes: Mapping[str, DayFinish] = field(default_factory=dict)
    causes: Mapping[str, Cause] = field(default_factory=dict)
    sheets: Mapping[str, Sheet] = field(default_factory=dict)
    temporary: Mapping[str, TemporaryWork] = field(default_factory=dict)
    looks: Mapping[str, Look] = field(default_factory=dict)
    readings: Mapping[str, Reading] = field(default_factory=dict)
    accepted: Mapping[str, AcceptedWarning] = field(default_factory=dict)

    @property
    def company(self) -> Company:
        """The one company of the snapshot."""
        return next(iter(self.companies.values()))

    @property
    def project(self) -> Project:
        """The one project of the snapshot; StopIteration if it has none yet."""
        return next(iter(self.projects.values()))

    def table(self, noun: type[N]) -> Mapping[str, N]:
        """The table that holds nouns of this type."""
        return cast(Mapping[str, N], getattr(self, TABLES[noun]))

    def put(self, *nouns: Noun) -> "Snapshot":
        """With these nouns added, or in place of the ones with the same id."""
        tables: dict[str, dict[str, Noun]] = {}
        for noun in nouns:
            name = TABLES[type(noun)]
            tables.setdefault(name, dict(getattr(self, name)))[noun.id] = noun
        return self.having(**tables)

    def drop(self, *nouns: Noun) -> "Snapshot":
        """Without these nouns."""
        tables: dict[str, dict[str, Noun]] = {}
        for noun in nouns:
            name = TABLES[type(noun)]
            tables.setdefault(name, dict(getattr(self, name))).pop(noun.id, None)
        return self.having(**tables)

    def having(self, **fields: Any) -> "Snapshot":
        """With other tables or revisions; what is worked out of tables that stay is taken along."""
        after = replace(self, **fields)
        for name, tables in MADE_OF.items():
            if name in vars(self) and fields.keys().isdisjoint(tables):
                vars(after)[name] = vars(self)[name]
        return after

    @cached_property
    def chain(self) -> tuple[Activity, ...]:
        """The activities that are in a chain (not ended, nor of an ended detail), in order."""
        return tuple(activity for chain in self._chains.values() for activity in chain)

    def chain_of(self, detail_id: str) -> tuple[Activity, ...]:
        """The activities of one detail, in order, without ended ones."""
        return self._chains.get(detail_id, ())

    @cached_property
    def _chains(self) -> Mapping[str, tuple[Activity, ...]]:
        details = sorted(self.details.values(), key=attrgetter("order"))
        found: dict[str, list[Activity]] = {d.id: [] for d in details if d.ended is None}
        for activity in sorted(self.activities.values(), key=attrgetter("order")):
            if activity.ended is None and activity.detail_id in found:
                found[activity.detail_id].append(activity)
        return {key: tuple(value) for key, value in found.items() if value}

    @cached_property
    def hold_of(self) -> Mapping[str, HoldPoint]:
        """Activity id -> its hold point."""
        return {h.activity_id: h for h in self.holds.values()}

    @cached_property
    def attempts_of(self) -> Mapping[str, tuple[Attempt, ...]]:
        """Hold point id -> its attempts, first to last; missing where there are none."""
        return _grouped(sorted(self.attempts.values(), key=lambda a: a.no), "hold_id")

    @cached_property
    def asks_of(self) -> Mapping[str, tuple[Ask, ...]]:
        """Hold point id -> what it asks, in order."""
        return _grouped(sorted(self.asks.values(), key=lambda a: a.order), "hold_id")

    @cached_property
    def measurements_of(self) -> Mapping[str, tuple[Measurement, ...]]:
        """Attempt id -> its measurements."""
        return _grouped(self.measurements.values(), "attempt_id")

    @cached_property
    def effects_of(self) -> Mapping[str, tuple[Effect, ...]]:
        """Activity id -> what it does to layers."""
        return _grouped(self.effects.values(), "activity_id")

    @cached_property
    def effects_on(self) -> Mapping[str, tuple[Effect, ...]]:
        """Layer id -> what is done to it."""
        return _grouped(self.effects.values(), "layer_id")

    @cached_property
    def within(self) -> Mapping[str, tuple[Layer, ...]]:
        """Layer id -> the layers that lie within it."""
        inside = [layer for layer in self.layers.values() if layer.within_id and not layer.ended]
        return _grouped(inside, "within_id")

    @cached_property
    def looking_at(self) -> Mapping[str, tuple[HoldPoint, ...]]:
        """Layer id -> the checks in a chain that look at it, without invited looks."""
        found: dict[str, list[HoldPoint]] = {}
        for activity in self.chain:
            hold = self.hold_of.get(activity.id)
            if hold is not None and not hold.witness:
                for id in hold.layer_ids:
                    found.setdefault(id, []).append(hold)
        return {id: tuple(holds) for id, holds in found.items()}

    @cached_property
    def kept_reach(self) -> list[Any]:
        """What comes before what, once it is worked out: see `cover.reach`."""
        return []

    @cached_property
    def before(self) -> Mapping[str, tuple[Dependency, ...]]:
        """Activity id -> the dependencies that lead to it."""
        return _grouped(self.dependencies.values(), "after_id")

    @cached_property
    def after(self) -> Mapping[str, tuple[Dependency, ...]]:
        """Activity id -> the dependencies that lead from it."""
        return _grouped(self.dependencies.values(), "before_id")

    @cached_property
    def forecasts(self) -> dict[datetime, Schedule]:
        """The schedules that were computed last, by status: see `network.forecast`."""
        return {}

    @cached_property
    def drawn_up(self) -> dict[str, Any]:
        """Row id -> what a network was made of last: see `network.network_of`.

        All snapshots made from one another share it, so whoever takes something from it looks
        whether it was made of the same row.
        """
        return {}


def _grouped(nouns: object, by: str) -> dict[str, tuple[N, ...]]:
    found: dict[str, list[N]] = {}
    for noun in cast("list[N]", nouns):
        found.setdefault(getattr(noun, by), []).append(noun)
    return {key: tuple(value) for key, value in found.items()}


@dataclass(frozen=True)
class Difference:
    """One row that differs: added (`before` None), gone (`after` None) or changed."""

    before: Noun | None
    after: Noun | None


def differences(before: Snapshot, after: Snapshot) -> Iterator[Difference]:
    """The rows that differ between two snapshots, parents before children, in table order."""
    for name in TABLES.values():
        old: Mapping[str, Noun] = getattr(before, name)
        new: Mapping[str, Noun] = getattr(after, name)
        if old is new:
            continue
        for id, noun in new.items():
            was = old.get(id)
            if was is not noun and was != noun:
                yield Difference(was, noun)
        for id, noun in old.items():
            if id not in new:
                yield Difference(noun, None)
