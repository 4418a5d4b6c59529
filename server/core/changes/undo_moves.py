"""Work that goes back into another detail: only as it could be moved there, and with its layers."""

from collections.abc import Iterator

from server.core.changes.rules_plan_activities import booked
from server.core.changes.rules_plan_rows import happened
from server.core.changes.undoing import NotPutBack, not_put_back
from server.core.world import Activity, Effect, HoldPoint, Layer, Noun, Snapshot


def refuse_two_details(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses work in one detail that tells of layers in another, and work moved too late.

    Work that ended with its detail does not come out of it, and none is lost in one that ended.
    """
    id = row.activity_id if isinstance(row, (Effect, HoldPoint)) else row.id
    activity, now = after.activities.get(id), before.activities.get(id)
    if activity is None:
        return
    moved = now is not None and now.detail_id != activity.detail_id
    if isinstance(row, Activity) and now is not None and moved:
        for detail_id in (now.detail_id, activity.detail_id):
            if (detail := after.details[detail_id]).ended is not None:
                raise not_put_back("undo.ended", after, detail)
        _refuse_moved(before, now)
    if isinstance(row, (Effect, HoldPoint)) or moved:
        for by, layer in _layers(after, activity):
            if layer.detail_id != activity.detail_id:
                in_the_way = not_put_back("undo.elsewhere", after, by)
                raise in_the_way.because_of(by, activity)


def refuse_asked_for(snapshot: Snapshot, activity_ids: set[str]) -> None:
    """Refuses to touch what a crew is asked or coming for by now: it has to hear of it first."""
    if (visit := booked(snapshot, activity_ids)) is not None:
        crew = snapshot.crews[visit.crew_id].name
        raise NotPutBack("plan.still_booked", crew=crew, start=visit.start).because_of(visit)


def _refuse_moved(before: Snapshot, activity: Activity) -> None:
    """What has happened, or is asked for, stays where it is; see the rule of `MoveActivities`."""
    refuse_asked_for(before, {activity.id})
    if happened(before, activity):
        hold = before.hold_of.get(activity.id)
        looks = before.attempts_of.get(hold.id, ()) if hold is not None else ()
        rows = (*looks, hold) if hold is not None else ()
        refused = NotPutBack("plan.moved_too_late", activity=activity.name)
        raise refused.because_of(*rows, activity)


def _layers(snapshot: Snapshot, activity: Activity) -> Iterator[tuple[Noun, Layer]]:
    """The layers that an activity and its check tell of, each with the row that does."""
    for effect in snapshot.effects_of.get(activity.id, ()):
        yield effect, snapshot.layers[effect.layer_id]
    hold = snapshot.hold_of.get(activity.id)
    if hold is not None:
        yield from ((hold, snapshot.layers[id]) for id in hold.layer_ids)
    if activity.measured_from_id is not None:
        yield activity, snapshot.layers[activity.measured_from_id]
