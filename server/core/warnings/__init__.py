"""The warnings: every kind there is, and those that a project has now.

`every()` gives the kinds; `find(snapshot, schedule)` what was found, worst first. A mend is given
only if it was tried on the snapshot and clears its warning whole without a new danger or lost work.
"""

from collections.abc import Callable

# Importing a family registers its warnings.
import server.core.warnings.bookings
import server.core.warnings.checks_calls
import server.core.warnings.checks_figures
import server.core.warnings.checks_numbers
import server.core.warnings.checks_releasers
import server.core.warnings.climate_acclimating
import server.core.warnings.climate_air
import server.core.warnings.climate_coats
import server.core.warnings.climate_heat
import server.core.warnings.climate_wood
import server.core.warnings.cover
import server.core.warnings.joint
import server.core.warnings.last
import server.core.warnings.order
import server.core.warnings.plan_ends
import server.core.warnings.plan_needless
import server.core.warnings.plan_waits
import server.core.warnings.protection_finished
import server.core.warnings.protection_shaken
import server.core.warnings.sequence
import server.core.warnings.space_closed
import server.core.warnings.space_crews
import server.core.warnings.space_edges
import server.core.warnings.space_hot
import server.core.warnings.space_overhead
import server.core.warnings.space_places
import server.core.warnings.space_temporary
import server.core.warnings.space_ways
import server.core.warnings.supply_datum
import server.core.warnings.supply_decisions
import server.core.warnings.supply_drawings
import server.core.warnings.supply_late
import server.core.warnings.supply_measured
import server.core.warnings.supply_orders
import server.core.warnings.supply_parts
import server.core.warnings.supply_samples
import server.core.warnings.unanswered
import server.core.warnings.unbooked  # noqa: F401
from server.core.schedule import Schedule
from server.core.warnings.base import RULES, WORST, Mend, Rule, Warning
from server.core.warnings.mending import all_of, all_watched, tried, untried
from server.core.world import Snapshot

__all__ = ["Mend", "Rule", "Warning", "every", "find", "found"]


def every() -> tuple[Rule, ...]:
    """Every kind of warning, in the order of registration."""
    return tuple(RULES.values())


def find(
    snapshot: Snapshot,
    schedule: Schedule,
    wanted: Callable[[Warning], bool] = lambda warning: True,
    *,
    detail_id: str | None = None,
    plan: bool = False,
    tried_first: int | None = None,
    and_of: frozenset[str] = frozenset(),
) -> tuple[Warning, ...]:
    """What is wrong now, worst first, then what bites first, with mends that were tried.

    Only those `wanted`, and of one detail if it is named: mends of the others are not tried.
    `plan`: with what is only about how the plan is drawn (`Rule.plan_only`). `tried_first`: the
    mends of only so many are tried, from the worst, and those of the rules `and_of`, since trying
    is what takes time; the others come `untried`. See `found`.
    """
    findings = all_watched(snapshot, schedule, detail_id=detail_id, plan=plan)
    everything = tuple(warning for found in findings.values() for warning in found.warnings)
    asked = [
        warning
        for warning in _shown(snapshot, schedule, everything)
        if (detail_id is None or warning.detail_id == detail_id) and wanted(warning)
    ]
    most = len(asked) if tried_first is None else tried_first
    return tuple(
        tried(snapshot, schedule, warning, findings)
        if place < most or warning.rule in and_of
        else untried(warning)
        for place, warning in enumerate(asked)
    )


def found(snapshot: Snapshot, schedule: Schedule, *, plan: bool = False) -> tuple[Warning, ...]:
    """The same with mends that nobody has tried: for what is compared or counted, not shown."""
    return _shown(snapshot, schedule, all_of(snapshot, schedule, plan=plan))


def _shown(
    snapshot: Snapshot, schedule: Schedule, everything: tuple[Warning, ...]
) -> tuple[Warning, ...]:
    """Without what the super has accepted until today or later; changed facts bring it back."""
    today = schedule.status.date()
    accepted = {a.warning for a in snapshot.accepted.values() if a.until >= today}
    shown = (w for w in everything if w.identity not in accepted)
    return tuple(sorted(shown, key=lambda w: (WORST[w.bad], w.at or schedule.status)))
