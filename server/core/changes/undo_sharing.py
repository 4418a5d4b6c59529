"""Work shared out anew, by a split or a merge: what came to it since was about the other share.

A visit asked for both halves would be one for the first alone, and a task that comes after both
would come after the first. So nobody's row is left with less than its person meant.
"""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from server.core.changes.undoing import RowId, not_put_back
from server.core.world import Activity, Difference, Noun, Snapshot


def shared_out(rows: Iterable[Difference]) -> frozenset[str]:
    """The ids of the activities whose work a change shared out between them and another.

    They stay and say something else, while another of their detail comes or goes.
    """
    found = [d for d in rows if isinstance(d.after or d.before, Activity)]
    other = {
        activity.detail_id
        for d in found
        if _stands(d.before) != _stands(d.after)
        for activity in (d.before, d.after)
        if isinstance(activity, Activity)
    }
    return frozenset(
        d.after.id
        for d in found
        if isinstance(d.before, Activity) and isinstance(d.after, Activity)
        if _stands(d.before) and _stands(d.after) and d.after.detail_id in other
        if _said(d.before) != _said(d.after)
    )


def refuse_shared_since(
    after: Snapshot, rows: Collection[Difference], since: Collection[RowId]
) -> None:
    """Refuses to share work out again as before when something came to it since."""
    own = {(type(one), one.id) for d in rows for one in (d.before, d.after) if one is not None}
    for id in sorted(shared_out(rows)):
        for row in _about(after, id):
            if (type(row), row.id) in since and (type(row), row.id) not in own:
                raise not_put_back("undo.came_since", after, row)


def _about(snapshot: Snapshot, id: str) -> Iterator[Noun]:
    """What counts on all of the work of an activity, or says what all of it does."""
    yield from (visit for visit in snapshot.visits_of.get(id, ()) if visit.ended is None)
    yield from (one for one in snapshot.agreed.values() if one.activity_id == id)
    yield from snapshot.before.get(id, ())
    yield from snapshot.after.get(id, ())
    yield from snapshot.effects_of.get(id, ())


def _stands(row: Noun | None) -> bool:
    return isinstance(row, Activity) and row.ended is None


def _said(activity: Activity) -> Activity:
    """Without where it is listed, and without the sample that a decision takes along."""
    return replace(activity, order=0, version=0, sample_id=None)
