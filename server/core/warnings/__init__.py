"""The warnings: every kind there is, and those that a project has now.

`every()` gives the kinds; `find(snapshot, schedule)` what was found, worst first. A mend is given
only if it was tried on the snapshot and clears its warning whole without a new danger or lost work.
"""

# Importing a family registers its warnings.
import server.core.warnings.bookings
import server.core.warnings.cover
import server.core.warnings.sequence
import server.core.warnings.unbooked  # noqa: F401
from server.core.schedule import Schedule
from server.core.warnings.base import RULES, WORST, Mend, Rule, Warning
from server.core.warnings.mending import all_of, tried
from server.core.world import Snapshot

__all__ = ["Mend", "Rule", "Warning", "every", "find"]


def every() -> tuple[Rule, ...]:
    """Every kind of warning, in the order of registration."""
    return tuple(RULES.values())


def find(snapshot: Snapshot, schedule: Schedule) -> tuple[Warning, ...]:
    """What is wrong now, worst first, then what bites first.

    Without what the super has accepted until today or later; what has changed since comes back.
    """
    found = all_of(snapshot, schedule)
    today = schedule.status.date()
    accepted = {a.warning for a in snapshot.accepted.values() if a.until >= today}
    shown = [
        tried(snapshot, schedule, warning, found)
        for warning in found
        if warning.identity not in accepted
    ]
    return tuple(sorted(shown, key=lambda w: (WORST[w.bad], w.at or schedule.status)))
