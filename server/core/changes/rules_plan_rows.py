"""Rules: rows of the order of work listed elsewhere, in their detail or in another."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Gone, Outcome, rule
from server.core.changes.inputs import BadInput, there
from server.core.changes.matching import LeftOut, carried, layers_named
from server.core.changes.orders import placed
from server.core.changes.plan_rows import MoveActivities, MoveActivity
from server.core.changes.rules_plan_activities import in_chain, refuse_booked
from server.core.refusals import Value, message
from server.core.world import TABLES, Activity, Detail, Noun, Snapshot

HAPPENED = ("started", "finished", "ordered", "measured", "drawn", "approved", "shipped", "counted")
"""The facts of an activity that say that something of it has happened."""


@rule(MoveActivity)
def move_activity(snapshot: Snapshot, actor: Actor, command: MoveActivity, at: datetime) -> Outcome:
    """Another row in the list; no date changes."""
    activity = in_chain(snapshot, command.activity_id, "activity_id")
    others = [a for a in snapshot.chain_of(activity.detail_id) if a.id != activity.id]
    if command.behind_id is not None:
        _in_list(others, command.behind_id)
    said = message("log.row_moved", activity=activity.name)
    if _above(snapshot, activity) == command.behind_id:
        return Outcome(snapshot, said)
    return Outcome(snapshot.put(*placed(others, (activity,), command.behind_id)), said)


@rule(MoveActivities)
def move_activities(
    snapshot: Snapshot, actor: Actor, command: MoveActivities, at: datetime
) -> Outcome:
    """Rows listed in another detail. Refused once something of them has happened, or is asked for.

    What was promised for them stays among the promises of the detail they leave: it was promised to
    be done by then.
    """
    detail = there(snapshot, Detail, command.to_detail_id, "to_detail_id")
    rows = chosen(snapshot, command.activity_ids)
    going = tuple(a for a in rows if a.detail_id != detail.id)
    for activity in going:
        if happened(snapshot, activity):
            raise BadInput("plan.moved_too_late", field="activity_ids", activity=activity.name)
    refuse_booked(snapshot, {a.id for a in going})
    others = [a for a in snapshot.chain_of(detail.id) if a not in rows]
    changed: list[Noun] = []
    left: list[LeftOut] = []
    moved: list[Activity] = []
    dropped: list[Noun] = []
    for activity in rows:
        along = carried(snapshot, activity, detail)
        left += along.left_out
        moved.append(
            replace(
                activity,
                detail_id=detail.id,
                place_id=along.place_id,
                measured_from_id=along.measured_from_id,
            )
        )
        changed += along.effects
        kept = {effect.id for effect in along.effects}
        dropped += [e for e in snapshot.effects_of.get(activity.id, ()) if e.id not in kept]
        if (hold := snapshot.hold_of.get(activity.id)) is not None:
            changed.append(replace(hold, layer_ids=along.looks_at))
    behind_id = last_or(others, command.behind_id)
    # the detail is put again, so that what hangs together with it is worked out anew
    changed += [detail, *placed(others, moved, behind_id)]
    names: dict[str, Value] = {"rows": tuple(a.name for a in rows), "detail": detail.name}
    said = message("log.rows_moved", **names)
    if left:
        layers = layers_named(snapshot, left)
        said = message("log.rows_moved_without", **names, layers=layers)
    return Outcome(snapshot.drop(*dropped).put(*changed), said)


def chosen(snapshot: Snapshot, ids: Iterable[str]) -> tuple[Activity, ...]:
    """The activities of these ids that are in a chain, in its order; refused where none is."""
    wanted = {in_chain(snapshot, id, "activity_ids").id for id in ids}
    if not wanted:
        raise BadInput("plan.which_rows", field="activity_ids")
    return tuple(a for a in snapshot.chain if a.id in wanted)


def happened(snapshot: Snapshot, activity: Activity) -> bool:
    """Whether something of an activity has happened: begun, ordered, answered, looked at."""
    hold = snapshot.hold_of.get(activity.id)
    looked_at = hold is not None and (hold.called is not None or hold.id in snapshot.attempts_of)
    return looked_at or bool(activity.answer) or any(getattr(activity, f) for f in HAPPENED)


def last_or(rows: list[Activity], behind_id: str | None) -> str | None:
    """The row that others are listed behind: that one, which has to be there, or the last."""
    if behind_id is None:
        return rows[-1].id if rows else None
    _in_list(rows, behind_id)
    return behind_id


def _above(snapshot: Snapshot, activity: Activity) -> str | None:
    """The row that an activity is listed behind now."""
    ids = [a.id for a in snapshot.chain_of(activity.detail_id)]
    index = ids.index(activity.id)
    return ids[index - 1] if index else None


def _in_list(rows: list[Activity], id: str) -> None:
    if id not in {row.id for row in rows}:
        raise Gone("change.gone", field="behind_id", what=TABLES[Activity])
