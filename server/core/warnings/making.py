"""What rules share: a warning about some activities, and facts of an activity to be changed."""

from collections.abc import Sequence
from dataclasses import fields
from datetime import datetime
from typing import Any

from server.core.changes.plan import ActivityFacts, AskFacts, ChangeActivity, CheckFacts
from server.core.changes.plan_facts import VERBS
from server.core.refusals import Message
from server.core.standing import places_of
from server.core.warnings.base import RULES, Bad, Mend, Warning, identity
from server.core.world import Activity, HoldPoint, Snapshot


def about(
    snapshot: Snapshot,
    rule: str,
    sentence: Message,
    activities: Sequence[Activity],
    *,
    facts: Sequence[object],
    subject: tuple[str, ...] = (),
    bad: Bad | None = None,
    at: datetime | None = None,
    layer_ids: tuple[str, ...] = (),
    hold_id: str | None = None,
    who: tuple[str | None, str | None] = (None, None),
    mends: Sequence[Mend] = (),
) -> Warning:
    """A warning of a registered rule about some activities, the one that matters first.

    `facts` make its identity. `subject`: that first one, if not given. `bad`: the rule's worst, if
    not given. `who` should act: crew id, person id, as `next.mover_of` gives them.
    """
    first, ids = activities[0], tuple(a.id for a in activities)
    return Warning(
        rule=rule,
        bad=bad or RULES[rule].bad,
        title=RULES[rule].title,
        sentence=sentence,
        subject=subject or (first.id,),
        identity=identity(rule, *(subject or (first.id,)), *facts),
        at=at,
        detail_id=first.detail_id,
        activity_ids=ids,
        layer_ids=layer_ids,
        place_ids=places_of(snapshot, ids),
        hold_id=hold_id,
        crew_id=who[0],
        person_id=who[1],
        mends=tuple(mends),
    )


def with_facts(snapshot: Snapshot, activity: Activity, **other: Any) -> ChangeActivity:
    """The change of an activity to other facts, as they are named in `ActivityFacts`."""
    hold = snapshot.hold_of.get(activity.id)
    return ChangeActivity(
        activity_id=activity.id,
        facts=facts_of(snapshot, activity, **other),
        check=_check(snapshot, hold, {}) if hold else None,
    )


def with_check(snapshot: Snapshot, hold: HoldPoint, **other: Any) -> ChangeActivity:
    """The change of a check to other facts, as they are named in `CheckFacts`."""
    activity = snapshot.activities[hold.activity_id]
    return ChangeActivity(
        activity_id=activity.id,
        facts=facts_of(snapshot, activity),
        check=_check(snapshot, hold, other),
    )


def facts_of(snapshot: Snapshot, activity: Activity, **other: Any) -> ActivityFacts:
    """What is said of an activity, but for these facts."""
    effects = snapshot.effects_of.get(activity.id, ())
    said: dict[str, Any] = {
        field: {e.layer_id: e.parts for e in effects if e.verb == verb}
        for field, verb in VERBS.items()
    }
    for field in fields(ActivityFacts):
        if field.name not in said:
            said[field.name] = getattr(activity, field.name)
    return ActivityFacts(**{**said, **other})


def _check(snapshot: Snapshot, hold: HoldPoint, other: dict[str, Any]) -> CheckFacts:
    names = [field.name for field in fields(CheckFacts) if field.name != "asks"]
    said: dict[str, Any] = {name: getattr(hold, name) for name in names}
    said["asks"] = tuple(AskFacts.of(ask) for ask in snapshot.asks_of.get(hold.id, ()))
    return CheckFacts(**{**said, **other})
