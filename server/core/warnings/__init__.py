"""The warnings: every kind there is, and those that a project has now.

`every()` gives the kinds; `find(snapshot, schedule)` what was found, worst first. A mend is given
only if it was tried on the snapshot and clears its warning whole without a new danger or lost work.
"""

from dataclasses import replace

# Importing a family registers its warnings.
import server.core.warnings.bookings
import server.core.warnings.cover
import server.core.warnings.sequence  # noqa: F401
from server.core.changes import Actor, change
from server.core.refusals import Refusal
from server.core.schedule import Schedule
from server.core.warnings.base import RULES, WORST, Mend, Rule, Warning
from server.core.world import Snapshot
from server.core.world.network import forecast

__all__ = ["Mend", "Rule", "Warning", "every", "find"]


def every() -> tuple[Rule, ...]:
    """Every kind of warning, in the order of registration."""
    return tuple(RULES.values())


def find(snapshot: Snapshot, schedule: Schedule) -> tuple[Warning, ...]:
    """What is wrong now, worst first, without what the super has accepted until today or later."""
    found = _all(snapshot, schedule)
    accepted = {a.warning for a in snapshot.accepted.values() if a.until >= schedule.status.date()}
    shown = [w for w in found if w.identity not in accepted]
    tried = [_tried(snapshot, schedule, warning, found) for warning in shown]
    return tuple(sorted(tried, key=lambda w: WORST[w.bad]))


def _all(snapshot: Snapshot, schedule: Schedule) -> tuple[Warning, ...]:
    found: dict[str, Warning] = {}
    for rule in every():
        for warning in rule.find(snapshot, schedule):
            found.setdefault(warning.identity, warning)
    return tuple(found.values())


def _tried(
    snapshot: Snapshot, schedule: Schedule, warning: Warning, before: tuple[Warning, ...]
) -> Warning:
    """The warning with only those mends that really clear it."""
    kept = tuple(
        mend
        for mend in warning.mends
        if not mend.commands or _clears(snapshot, schedule, warning, mend, before)
    )
    return replace(warning, mends=kept[:3])


def _clears(
    snapshot: Snapshot,
    schedule: Schedule,
    warning: Warning,
    mend: Mend,
    before: tuple[Warning, ...],
) -> bool:
    status = schedule.status
    presser = _super(snapshot)
    if presser is None:
        return False
    after = snapshot
    try:
        for command in mend.commands:
            after = change(after, presser, command, status).after
    except Refusal:
        return False
    found = _all(after, forecast(after, status))
    same = {(w.rule, w.detail_id, w.activity_ids) for w in found}
    if (warning.rule, warning.detail_id, warning.activity_ids) in same:
        return False
    known = {(w.rule, w.activity_ids) for w in before if w.bad in ("danger", "lost work")}
    return all((w.rule, w.activity_ids) in known for w in found if w.bad in ("danger", "lost work"))


def _super(snapshot: Snapshot) -> Actor | None:
    for person in snapshot.people.values():
        if person.role == "super" and person.ended is None:
            return Actor(person_id=person.id, name=person.name, role="super")
    return None
