"""The frozen snapshot of a project: every noun of it, and what it shares with its company.

A rule takes a snapshot and gives back another; the store writes the difference. So the ripple that
is shown, the mend that is tried and the change that is made are one and the same function.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar, cast

from server.core.world.chain import Activity, Dependency, Effect
from server.core.world.company import Company, Crew, OwnLimits, OwnPattern, Person, WorkCalendar
from server.core.world.detail import Detail, Layer, Side
from server.core.world.figures import KeptFigure, StackPart
from server.core.world.holds import Ask, Attempt, HoldPoint, Measurement, Photo
from server.core.world.indices import MADE_OF, Indices
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
    OwnPattern: "own_patterns",
    OwnLimits: "own_limits",
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
    KeptFigure: "kept_figures",
    StackPart: "stack_parts",
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


@dataclass(frozen=True, kw_only=True)
class Snapshot(Indices):
    """A company and one project of it (or none yet), each table a mapping id -> noun.

    Tables keep the order of the rows: by `order` where the noun has one, else by id.
    """

    company_revision: int = 0
    project_revision: int = 0
    companies: Mapping[str, Company] = field(default_factory=dict)
    calendars: Mapping[str, WorkCalendar] = field(default_factory=dict)
    crews: Mapping[str, Crew] = field(default_factory=dict)
    people: Mapping[str, Person] = field(default_factory=dict)
    own_patterns: Mapping[str, OwnPattern] = field(default_factory=dict)
    own_limits: Mapping[str, OwnLimits] = field(default_factory=dict)
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
    kept_figures: Mapping[str, KeptFigure] = field(default_factory=dict)
    stack_parts: Mapping[str, StackPart] = field(default_factory=dict)
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
        # nearly all rows are the very same: only of the others the fields are compared
        for id in [id for id, noun in new.items() if old.get(id) is not noun]:
            if old.get(id) != new[id]:
                yield Difference(old.get(id), new[id])
        if old.keys() - new.keys():
            for id, noun in old.items():
                if id not in new:
                    yield Difference(noun, None)
