"""A mend is tried on the snapshot before it is shown: it has to help, whole, and harm nowhere."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from server.core.changes import Actor, changed
from server.core.changes.held import super_of
from server.core.refusals import Refusal
from server.core.schedule import Schedule
from server.core.warnings.base import RULES, WORST, Mend, Rule, Warning
from server.core.warnings.nearby import Seen, seen_from, touched
from server.core.warnings.watching import Findings, changed_tables, watched
from server.core.world import Snapshot
from server.core.world.indices import MADE_OF
from server.core.world.network import forecast

MOST = 3
GRAVE = WORST["lost work"]
# A mend that leaves all this alone leaves the forecast alone.
DATED = MADE_OF["kept_forecast"]

About = tuple[str, tuple[str, ...]]


def all_of(snapshot: Snapshot, schedule: Schedule, *, plan: bool = False) -> tuple[Warning, ...]:
    """All that every rule finds, with candidate mends, accepted or not.

    What is only about how the plan is drawn is looked for with `plan`.
    """
    return tuple(w for rule in _asked(plan) for w in rule.find(snapshot, schedule))


def all_watched(
    snapshot: Snapshot, schedule: Schedule, *, detail_id: str | None = None, plan: bool = False
) -> Mapping[str, Findings]:
    """The same by rule, with what each rule read, so that mends can be tried.

    Those of one detail, if it is named, are all among them; others may be.
    """
    _ = snapshot.tied_by_the_plan  # every mend that is tried takes it along
    seen = seen_from(snapshot, *([detail_id] if detail_id else []))
    return {rule.id: watched(rule, seen.by(rule), schedule) for rule in _asked(plan)}


def tried(
    snapshot: Snapshot,
    schedule: Schedule,
    warning: Warning,
    before: Mapping[str, Findings],
) -> Warning:
    """The warning with only those mends that really clear it. A way to a page is not tried.

    `before` is what `all_watched` gave.
    """
    kept = [
        mend
        for mend in warning.mends
        if not mend.commands or _clears(snapshot, schedule, warning, mend, before)
    ]
    return replace(warning, mends=tuple(kept[:MOST]))


def untried(warning: Warning) -> Warning:
    """The warning with only the ways to a page, which need no trying."""
    ways = tuple(mend for mend in warning.mends if not mend.commands)
    return replace(warning, mends=ways[:MOST], untried=len(ways) < len(warning.mends))


def _clears(
    snapshot: Snapshot,
    schedule: Schedule,
    warning: Warning,
    mend: Mend,
    before: Mapping[str, Findings],
) -> bool:
    after = _pressed(snapshot, schedule, mend)
    if after is None:
        return False
    same_dates = all(getattr(after, name) is getattr(snapshot, name) for name in DATED)
    then = schedule if same_dates else forecast(after, schedule.status)
    own, seen = RULES[warning.rule], Seen(after, after)
    if near := touched(snapshot, after):
        seen = seen_from(after, *near, *([warning.detail_id] if warning.detail_id else []))
    if any(_about(w) == _about(warning) for w in own.find(seen.by(own), then)):
        return False
    changed_in = changed_tables(snapshot, after)
    for rule in _asked(plan=False):
        known = before[rule.id]
        if WORST[rule.bad] > GRAVE or (same_dates and known.read.isdisjoint(changed_in)):
            continue
        grave = {_about(w): WORST[w.bad] for w in known.warnings}
        for found in rule.find(seen.by(rule), then):
            worst = WORST[found.bad]
            if worst <= GRAVE and worst < grave.get(_about(found), GRAVE + 1):
                return False
    return True


def _asked(plan: bool) -> Iterator[Rule]:
    return (rule for rule in RULES.values() if plan or not rule.plan_only)


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
