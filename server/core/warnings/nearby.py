"""The part of a project on which the warnings of one detail depend.

Details that share a dependency, a layer, a check, a visit or a sample hang together. No warning of
the families named here looks beyond the details that hang together with its own, so those of one
detail can be found, and their mends tried, without the rest of the house.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from server.core.warnings.base import Rule
from server.core.world import (
    Company,
    Crew,
    Detail,
    Noun,
    Person,
    Project,
    Snapshot,
    WorkCalendar,
    differences,
)

NEARBY = frozenset({"booking", "check", "cover", "sequence", "supply"})
"""A family that looks at a whole place, or at all that a crew does, does not belong here."""

FURTHER = frozenset({"last reach passed", "last way in passed"})
"""Rules of those families that do: temporary works and ways serve several details."""


OF_ALL = (Company, Crew, Person, Project, WorkCalendar)
"""What belongs to no detail and may matter in each."""


@dataclass(frozen=True)
class Seen:
    """What the rules are asked of: the whole project, or what is near where that is enough."""

    whole: Snapshot
    near: Snapshot

    def by(self, rule: Rule) -> Snapshot:
        """What this rule has to see."""
        near = rule.family in NEARBY and rule.id not in FURTHER
        return self.near if near else self.whole


def seen_from(snapshot: Snapshot, *detail_ids: str) -> Seen:
    """What has to be seen for the warnings of these details; of all of them if none is named."""
    return Seen(snapshot, around(snapshot, *detail_ids) if detail_ids else snapshot)


def touched(before: Snapshot, after: Snapshot) -> frozenset[str]:
    """The details to which the rows belong that differ; none where a row belongs to all of them."""
    found: set[str] = set()
    for difference in differences(before, after):
        for noun in (difference.before, difference.after):
            if isinstance(noun, OF_ALL):
                return frozenset()
            if noun is not None:
                found.update(_details(noun, before, after))
    return frozenset(found)


def around(snapshot: Snapshot, *detail_ids: str) -> Snapshot:
    """The project with only the details that hang together with one of these."""
    groups = snapshot.hanging_together
    details = {id for one in detail_ids for id in groups.get(one, (one,))}
    activities = snapshot.activities
    return snapshot.having(
        details={id: d for id, d in snapshot.details.items() if id in details},
        layers={id: x for id, x in snapshot.layers.items() if x.detail_id in details},
        holds={
            id: h
            for id, h in snapshot.holds.items()
            if activities[h.activity_id].detail_id in details
        },
        bookings={
            id: b
            for id, b in snapshot.bookings.items()
            if any(activities[one].detail_id in details for one in b.activity_ids)
        },
    )


def _details(noun: Noun, *worlds: Snapshot) -> Iterator[str]:
    """The details that a row names, or the work or the check that it names."""
    if isinstance(noun, Detail):
        yield noun.id
    detail_id: str | None = getattr(noun, "detail_id", None)
    if detail_id is not None:
        yield detail_id
    ids = [getattr(noun, name, None) for name in ("activity_id", "before_id", "after_id")]
    for world in worlds:
        hold = world.holds.get(getattr(noun, "hold_id", None) or "")
        own = [*ids, *getattr(noun, "activity_ids", ()), hold.activity_id if hold else None]
        for id in own:
            if id in world.activities:
                yield world.activities[id].detail_id
