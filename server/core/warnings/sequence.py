"""Warnings of sequence: what happened out of order."""

from collections.abc import Iterable

from server.core.changes.plan import EndDependency
from server.core.measured import before_measuring
from server.core.next import mover_of
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import hidden_parts
from server.core.states.before import binding
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Dependency, Snapshot

RULE = "out of order"
TITLE = message("warning.out_of_order.title")


@warns(RULE, title=TITLE, bad="in the way", family="sequence")
def out_of_order(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Started or done before something it depends on, which is still open.

    One note for each open thing, whatever has run ahead of it. What hides an open check is told as
    hidden, and what was measured from an unfinished layer as measured too soon, not here. Once both
    are done it is history.
    """
    ahead: dict[str, list[tuple[Dependency, Activity]]] = {}
    for activity in snapshot.chain:
        if activity.started is None and activity.finished is None:
            continue
        for dependency in binding(snapshot, activity.id):
            before = snapshot.activities[dependency.before_id]
            broken = _broken(dependency, before, activity, before.id in schedule.done)
            told = (
                _hides(snapshot, before, activity)
                or _measured(snapshot, before, activity)
                or _coat(before, activity)
            )
            if broken and not told:
                ahead.setdefault(before.id, []).append((dependency, activity))
    for before_id, pairs in ahead.items():
        yield _warning(snapshot, schedule, snapshot.activities[before_id], pairs)


def _coat(before: Activity, activity: Activity) -> bool:
    """Whether a wet coat has begun while the one under it dries: that is a coat too soon."""
    return before.kind == "wait" and activity.wet and bool(before.stuff)


def _warning(
    snapshot: Snapshot,
    schedule: Schedule,
    before: Activity,
    pairs: list[tuple[Dependency, Activity]],
) -> Warning:
    hold = snapshot.hold_of.get(before.id)
    tasks = tuple(dict.fromkeys(activity for _, activity in pairs))
    ids = (*(a.id for a in tasks), before.id)
    crew_id, person_id = mover_of(snapshot, before, schedule)
    reasons = tuple(dict.fromkeys(a.anyway for a in tasks if a.anyway))
    names = tuple(a.name for a in tasks)
    sentence = message("warning.out_of_order.said", work=names, before=before.name)
    if reasons:
        sentence = message(
            "warning.out_of_order.anyway", work=names, before=before.name, reason=reasons
        )
    return Warning(
        rule=RULE,
        bad="in the way",
        title=TITLE,
        sentence=sentence,
        subject=(before.id,),
        identity=identity(RULE, before.id, *((a.id, a.started, a.finished) for a in tasks)),
        at=min(a.started or schedule.status for a in tasks),
        detail_id=before.detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        hold_id=hold.id if hold else None,
        crew_id=crew_id,
        person_id=person_id,
        mends=(
            Mend(message("warning.open_check"), goto_hold_id=hold.id)
            if hold
            else Mend(
                message("warning.not_after", work=names, before=before.name),
                tuple(EndDependency(dependency_id=d.id) for d, _ in pairs),
            ),
        ),
    )


def _broken(d: Dependency, before: Activity, after: Activity, done: bool) -> bool:
    """Whether `after` has gone ahead of a `before` that is still open."""
    begun = done or before.started is not None or before.ordered is not None
    happened = after.finished is not None or (d.type[1] == "S" and after.started is not None)
    return happened and not (done if d.type[0] == "F" else begun)


def _hides(snapshot: Snapshot, before: Activity, activity: Activity) -> bool:
    hold = snapshot.hold_of.get(before.id)
    return hold is not None and hidden_parts(snapshot, activity, hold) != frozenset()


def _measured(snapshot: Snapshot, before: Activity, activity: Activity) -> bool:
    """Whether it was measured from a layer that had to be in, dry and looked at before."""
    layer = snapshot.layers.get(activity.measured_from_id or "")
    if layer is None or layer.ended is not None or activity.kind == "delivery":
        return False
    return before in before_measuring(snapshot, activity, layer)
