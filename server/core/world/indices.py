"""What is looked up in a snapshot over and over, worked out once from the tables it is made of."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from operator import attrgetter
from typing import Any, TypeVar, cast

from server.core.world.chain import Activity, Dependency, Effect
from server.core.world.detail import Detail, Layer
from server.core.world.figures import StackPart
from server.core.world.holds import Ask, Attempt, HoldPoint, Measurement
from server.core.world.noun import Noun
from server.core.world.visits import Booking

N = TypeVar("N", bound=Noun)

MADE_OF: Mapping[str, tuple[str, ...]] = {
    "chain": ("activities", "details"),
    "_chains": ("activities", "details"),
    "_by_detail": ("activities",),
    "hold_of": ("holds",),
    "attempts_of": ("attempts",),
    "asks_of": ("asks",),
    "measurements_of": ("measurements",),
    "stack_parts_of": ("stack_parts",),
    "effects_of": ("effects",),
    "effects_on": ("effects",),
    "within": ("layers",),
    "looking_at": ("holds", "activities", "details"),
    "kept_reach": ("activities", "details", "dependencies"),
    "kept_order": ("activities", "details", "dependencies", "layers", "effects", "holds"),
    "kept_forecast": (
        "activities",
        "dependencies",
        "holds",
        "crews",
        "calendars",
        "details",
        "projects",
    ),
    "kept_finding": (
        "activities",
        "details",
        "layers",
        "holds",
        "crews",
        "places",
        "floors",
        "people",
        "sheets",
        "kept_figures",
    ),
    "visits_of": ("bookings",),
    "before": ("dependencies",),
    "after": ("dependencies",),
    "drawn_up": ("crews", "calendars", "projects"),
    "hanging_together": (
        "activities",
        "bookings",
        "dependencies",
        "details",
        "effects",
        "holds",
        "layers",
    ),
    # not of the activities: what ties one to others is a row, and whoever moves one to another
    # detail puts that detail again
    "tied_by_the_plan": ("details", "layers", "dependencies", "effects", "holds"),
}
"""What is worked out of a snapshot, and the tables that it is made of."""


class Indices:
    """The indices of a snapshot; a snapshot made from another takes along those that still hold."""

    details: Mapping[str, Detail]
    layers: Mapping[str, Layer]
    activities: Mapping[str, Activity]
    dependencies: Mapping[str, Dependency]
    effects: Mapping[str, Effect]
    holds: Mapping[str, HoldPoint]
    asks: Mapping[str, Ask]
    attempts: Mapping[str, Attempt]
    stack_parts: Mapping[str, StackPart]
    measurements: Mapping[str, Measurement]
    bookings: Mapping[str, Booking]

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
        standing = (d.id for d in details if d.ended is None)
        return {id: self._by_detail[id] for id in standing if id in self._by_detail}

    @cached_property
    def _by_detail(self) -> Mapping[str, tuple[Activity, ...]]:
        """Detail id -> its activities that have not ended, in order."""
        activities = sorted(self.activities.values(), key=attrgetter("order"))
        return _grouped([a for a in activities if a.ended is None], "detail_id")

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
    def stack_parts_of(self) -> Mapping[str, tuple[StackPart, ...]]:
        """Id of a kept figure -> the parts of its stack, in order."""
        return _grouped(sorted(self.stack_parts.values(), key=lambda p: p.order), "figure_id")

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
    def kept_order(self) -> list[Any]:
        """The order that layers imply, once it is worked out: see `cover.order`."""
        return []

    @cached_property
    def kept_forecast(self) -> list[Any]:
        """The dates as of the status that was asked for last: see `network.forecast`."""
        return []

    @cached_property
    def kept_finding(self) -> list[Any]:
        """What can be found by its name, once it is worked out: see `finding`."""
        return []

    @cached_property
    def visits_of(self) -> Mapping[str, tuple[Booking, ...]]:
        """Activity id -> the visits for it, whatever has become of them."""
        found: dict[str, list[Booking]] = {}
        for visit in self.bookings.values():
            for id in visit.activity_ids:
                found.setdefault(id, []).append(visit)
        return {id: tuple(visits) for id, visits in found.items()}

    @cached_property
    def before(self) -> Mapping[str, tuple[Dependency, ...]]:
        """Activity id -> the dependencies that lead to it."""
        return _grouped(self.dependencies.values(), "after_id")

    @cached_property
    def after(self) -> Mapping[str, tuple[Dependency, ...]]:
        """Activity id -> the dependencies that lead from it."""
        return _grouped(self.dependencies.values(), "before_id")

    @cached_property
    def hanging_together(self) -> Mapping[str, frozenset[str]]:
        """Detail id -> the details that it hangs together with, itself among them.

        Two hang together that share a dependency, a layer, a check or a visit, where one is
        measured from the other or has its sample there, or that hang together with the same one.
        """
        groups = dict(self.tied_by_the_plan)
        for ids in self._ties_of_work():
            if len(ids) > 1:
                joined = frozenset().union(*(groups[id] for id in ids))
                groups.update(dict.fromkeys(joined, joined))
        return groups

    @cached_property
    def tied_by_the_plan(self) -> Mapping[str, frozenset[str]]:
        """The same by rows that are seldom changed: without visits, and what work itself says."""
        group = {id: [id] for id in self.details}
        for ids in self._ties():
            first, *others = {id: group[id] for id in ids}.values() or ([],)
            for other in others:
                if other is not first:
                    first += other
                    group.update(dict.fromkeys(other, first))
        return {id: frozenset(ids) for id, ids in group.items()}

    def _ties_of_work(self) -> Iterator[set[str]]:
        """The details that a visit ties together, or what work is measured from, or its sample."""
        activities, layers = self.activities, self.layers
        for b in self.bookings.values():
            yield {activities[id].detail_id for id in b.activity_ids}
        for a in activities.values():
            if (layer := layers.get(a.measured_from_id or "")) is not None:
                yield {a.detail_id, layer.detail_id}
            if (sample := activities.get(a.sample_id or "")) is not None:
                yield {a.detail_id, sample.detail_id}

    def _ties(self) -> Iterator[set[str]]:
        """The details that one row ties together, row by row."""
        of = {id: a.detail_id for id, a in self.activities.items()}
        layer = {id: x.detail_id for id, x in self.layers.items()}
        for d in self.dependencies.values():
            yield {of[d.before_id], of[d.after_id]}
        for e in self.effects.values():
            yield {of[e.activity_id], layer[e.layer_id]}
        for h in self.holds.values():
            yield {of[h.activity_id], *(layer[id] for id in h.layer_ids)}

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
