"""The part of a project on which the warnings of one detail depend.

Details that share a dependency, a layer, a check or a visit hang together. No warning of the
families named here looks beyond the details that hang together with its own, so those of one
detail can be found, and their mends tried, without the rest of the house.
"""

from dataclasses import dataclass

from server.core.warnings.base import Rule
from server.core.world import Snapshot

NEARBY = frozenset({"booking", "check", "cover", "sequence"})
"""A family that looks at a whole place, or at all that a crew does, does not belong here."""


@dataclass(frozen=True)
class Seen:
    """What the rules are asked of: the whole project, or what is near where that is enough."""

    whole: Snapshot
    near: Snapshot

    def by(self, rule: Rule) -> Snapshot:
        """What this rule has to see."""
        return self.near if rule.family in NEARBY else self.whole


def seen_from(snapshot: Snapshot, detail_id: str | None) -> Seen:
    """What has to be seen for the warnings of one detail, or of all of them (None)."""
    return Seen(snapshot, snapshot if detail_id is None else around(snapshot, detail_id))


def around(snapshot: Snapshot, detail_id: str) -> Snapshot:
    """The project with only the details that hang together with this one."""
    details = snapshot.hanging_together.get(detail_id, frozenset((detail_id,)))
    activities = snapshot.activities
    return snapshot.having(
        details={id: d for id, d in snapshot.details.items() if id in details},
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
