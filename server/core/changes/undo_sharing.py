"""Work shared out anew, by a split or a merge: what came to it since was about the other share.

A visit asked for both halves would be one for the first alone, and a task that comes after both
would come after the first. So nobody's row is left with less than its person meant.
"""

from collections.abc import Collection, Iterable
from dataclasses import replace

from server.core.changes.undoing import not_put_back
from server.core.world import (
    Activity,
    Agreed,
    Booking,
    Dependency,
    Difference,
    Effect,
    Noun,
    Snapshot,
)
from server.core.world.references import references


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
    snapshot: Snapshot, rows: Collection[Difference], since: Iterable[Difference]
) -> None:
    """Refuses to share work out again as before when something came to it, or went, since."""
    shared = {("activities", id) for id in shared_out(rows)}
    own = {(type(one), one.id) for d in rows for one in (d.before, d.after) if one is not None}
    for d in since:
        row = d.after or d.before
        if row is None or (type(row), row.id) in own or not _counts(d):
            continue
        named = {to for one in (d.before, d.after) if one is not None for to in references(one)}
        if not shared.isdisjoint(named):
            raise not_put_back("undo.came_since", snapshot, row)


def _counts(d: Difference) -> bool:
    """Whether a row counts on all of the work of an activity, or says what all of it does."""
    row = d.after or d.before
    if isinstance(row, Booking) and row.ended is not None:
        return False
    before, after = (replace(one, version=0) if one else None for one in (d.before, d.after))
    return before != after and isinstance(row, (Agreed, Booking, Dependency, Effect))


def _stands(row: Noun | None) -> bool:
    return isinstance(row, Activity) and row.ended is None


def _said(activity: Activity) -> Activity:
    """Without where it is listed, and without the sample that a decision takes along."""
    return replace(activity, order=0, version=0, sample_id=None)
