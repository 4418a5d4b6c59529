"""The part of a project on which the warnings of one detail depend.

Details that share a dependency, a layer, a check or a visit hang together. No warning of the
families named here looks beyond the details that hang together with its own, so those of one
detail can be found, and their mends tried, without the rest of the house.
"""

from server.core.warnings.base import RULES
from server.core.world import Snapshot

NEARBY = frozenset({"booking", "cover", "sequence"})
"""A family that looks at a whole place, or at all that a crew does, does not belong here."""


def around(snapshot: Snapshot, detail_id: str) -> Snapshot:
    """The project with only the details that hang together with this one.

    The whole of it as long as there is any family of warnings that looks further.
    """
    if any(rule.family not in NEARBY for rule in RULES.values()):
        return snapshot
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
