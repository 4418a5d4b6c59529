"""A mend is tried on the snapshot before it is shown: it has to help, whole, and harm nowhere."""

from collections.abc import Iterator
from dataclasses import replace

from server.core.changes import Actor, changed
from server.core.changes.held import super_of
from server.core.refusals import Refusal
from server.core.schedule import Schedule
from server.core.warnings.base import RULES, WORST, Mend, Warning
from server.core.world import Snapshot
from server.core.world.network import forecast

MOST = 3
GRAVE = WORST["lost work"]
# What the forecast is made of; a mend that leaves all this alone leaves the forecast alone.
DATED = ("activities", "dependencies", "holds", "crews", "calendars", "details", "projects")

About = tuple[str, tuple[str, ...]]


def all_of(snapshot: Snapshot, schedule: Schedule, *, plan: bool = False) -> tuple[Warning, ...]:
    """All that every rule finds, with candidate mends, accepted or not.

    What is only about how the plan is drawn is looked for with `plan`.
    """
    return tuple(
        warning
        for rule in RULES.values()
        if plan or not rule.plan_only
        for warning in rule.find(snapshot, schedule)
    )


def tried(
    snapshot: Snapshot, schedule: Schedule, warning: Warning, before: tuple[Warning, ...]
) -> Warning:
    """The warning with only those mends that really clear it. A way to a check is not tried."""
    kept = [
        mend
        for mend in warning.mends
        if not mend.commands or _clears(snapshot, schedule, warning, mend, before)
    ]
    return replace(warning, mends=tuple(kept[:MOST]))


def _clears(
    snapshot: Snapshot,
    schedule: Schedule,
    warning: Warning,
    mend: Mend,
    before: tuple[Warning, ...],
) -> bool:
    after = _pressed(snapshot, schedule, mend)
    if after is None:
        return False
    same_dates = all(getattr(after, name) is getattr(snapshot, name) for name in DATED)
    then = schedule if same_dates else forecast(after, schedule.status)
    if any(_about(w) == _about(warning) for w in RULES[warning.rule].find(after, then)):
        return False
    grave = {_about(w): WORST[w.bad] for w in before if WORST[w.bad] <= GRAVE}
    return all(
        WORST[w.bad] >= grave.get(_about(w), GRAVE + 1)
        for w in _grave(after, then)
        if WORST[w.bad] <= GRAVE
    )


def _grave(snapshot: Snapshot, schedule: Schedule) -> Iterator[Warning]:
    """What the rules find that can be danger or lost work: the others are not asked."""
    for rule in RULES.values():
        if WORST[rule.bad] <= GRAVE and not rule.plan_only:
            yield from rule.find(snapshot, schedule)


def _pressed(snapshot: Snapshot, schedule: Schedule, mend: Mend) -> Snapshot | None:
    """The world after the super has pressed it; None if it would be refused."""
    person = super_of(snapshot)
    if person is None:
        return None
    presser = Actor(person_id=person.id, name=person.name, role=person.role)
    try:
        return changed(snapshot, presser, mend.commands, schedule.status)
    except Refusal:
        return None


def _about(warning: Warning) -> About:
    return warning.rule, warning.subject
