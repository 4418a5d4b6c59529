"""The warning of a drawing that has been replaced, and what is still made to it."""

from collections.abc import Iterable

from server.core.next import mover_of
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.states import live_attempts
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about, with_facts
from server.core.world import Activity, Sheet, Snapshot

OLD = "old drawing"
OLD_TITLE = message("warning.old_drawing.title")


@warns(OLD, title=OLD_TITLE, bad="lost work", family="supply")
def old_drawing(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A check, template or order that is not over is made to a revision that has been replaced.

    Or a check was marked with the numbers of one, and nobody has decided yet. What is done or here
    was made to the drawing of its day.
    """
    for activity in snapshot.chain:
        if activity.finished is not None:
            continue
        own = _replaced(snapshot, activity.sheet_id)
        old = own or _replaced(snapshot, _marked_to(snapshot, activity))
        if old is None:
            continue
        new = newest(snapshot, old)
        hold = snapshot.hold_of.get(activity.id)
        mends = []
        if own is not None:
            label = message(
                "warning.made_to", work=activity.name, number=new.number, revision=new.revision
            )
            mends.append(Mend(label, (with_facts(snapshot, activity, sheet_id=new.id),)))
        if hold is not None:
            mends.append(Mend(message("warning.open_check"), goto_hold_id=hold.id))
        yield about(
            snapshot,
            OLD,
            message(
                "warning.old_drawing.said" if own else "warning.old_drawing.marked",
                work=activity.name,
                number=old.number,
                revision=old.revision,
                newer=new.revision,
            ),
            (activity,),
            facts=(old.id, new.id, activity.ordered),
            at=schedule[activity.id].early_start,
            hold_id=hold.id if hold else None,
            who=mover_of(snapshot, activity, schedule),
            mends=mends,
        )


def newest(snapshot: Snapshot, sheet: Sheet) -> Sheet:
    """The revision that a drawing has come to."""
    seen = {sheet.id}
    while (after := snapshot.sheets.get(sheet.replaced_id or "")) and after.id not in seen:
        seen.add(after.id)
        sheet = after
    return sheet


def _replaced(snapshot: Snapshot, sheet_id: str | None) -> Sheet | None:
    sheet = snapshot.sheets.get(sheet_id or "")
    return sheet if sheet is not None and sheet.replaced_id in snapshot.sheets else None


def _marked_to(snapshot: Snapshot, activity: Activity) -> str | None:
    """The drawing of the mark that waits for a decision."""
    hold = snapshot.hold_of.get(activity.id)
    attempts = live_attempts(snapshot, hold) if hold else ()
    waits = attempts and attempts[-1].state == "marked"
    return attempts[-1].sheet_id if waits else None
