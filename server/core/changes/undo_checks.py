"""Whether what is put back goes with all that came since: nothing hangs loose, nothing is doubled.

The rules of the commands have judged the rows once, in the world of then.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import datetime

from server.core.changes.rings import ring
from server.core.changes.rules_places import falls_back
from server.core.changes.rules_plan import awaited
from server.core.changes.rules_plan_layers import worked_on
from server.core.changes.undo_doubles import refuse_doubled
from server.core.changes.undo_moves import refuse_asked_for, refuse_two_details
from server.core.changes.undoing import NotPutBack, not_put_back, said_of
from server.core.schedule import Refused
from server.core.world import (
    TABLES,
    Activity,
    Ask,
    Crew,
    Dependency,
    Detail,
    Effect,
    HoldPoint,
    Layer,
    Noun,
    Place,
    Snapshot,
    WorkCalendar,
)
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.core.world.references import POINTS_TO, references

LEAVE_WITH: Mapping[type[Noun], tuple[type[Noun], ...]] = {
    Activity: (Dependency,),
    Layer: (Effect, HoldPoint, Activity, Layer),
}
"""What may not point any more to a thing that has ended; what else does is what it left."""
NOUNS = {table: noun for noun, table in TABLES.items()}


def refuse_what_does_not_fit(
    before: Snapshot, after: Snapshot, gone: Sequence[Noun], back: Sequence[Noun], at: datetime
) -> None:
    """Raises a refusal if `after`, where rows are gone and others back, is no world to go on in."""
    ended = [row for row in back if _has_ended(row) and not _has_ended(_now(before, row))]
    _refuse_hanging(after, gone, ended)
    for row in ended:
        _refuse_ending(before, after, row)
    for row in back:
        _refuse_pointing_nowhere(before, after, row)
        refuse_doubled(before, after, row)
        _refuse_rounds(after, row)
        refuse_two_details(before, after, row)
        _refuse_parts(after, row)
    for row in (*gone, *back):
        _refuse_done(before, row)
    if after.projects:
        try:
            forecast(after, status_of(at))
        except Refused as refused:
            raise NotPutBack("undo.no_dates", why=refused.message) from refused


def _refuse_rounds(after: Snapshot, row: Noun) -> None:
    """Refuses what would come after itself, lie within itself, be open to or follow itself."""
    match row:
        case Dependency() if path := ring(after, row.before_id, row.after_id):
            names = tuple(after.activities[id].name for id in path)
            ties = (d for id in path for d in after.after.get(id, ()) if d.after_id in path)
            raise NotPutBack("plan.ring", path=names).because_of(*ties)
        case Layer() if round := _round(after.layers, row, "within_id"):
            raise NotPutBack("plan.within_itself").because_of(*round)
        case WorkCalendar() if round := _round(after.calendars, row, "based_on_id"):
            id, follows = "calendars.follows_itself", round[-1]
            raise NotPutBack(id, calendar=getattr(follows, "name", "")).because_of(*round)
        case Place() if above := falls_back(after, row):
            raise NotPutBack("places.open_both_ways", place=above.name).because_of(above)


def _round(table: Mapping[str, Noun], row: Noun, field: str) -> tuple[Noun, ...]:
    """The rows that lead from a row back to it, the row first; empty if they do not."""
    found = [row]
    while (next_id := getattr(found[-1], field)) is not None and next_id != row.id:
        if any(one.id == next_id for one in found):
            return ()
        found.append(table[next_id])
    return tuple(found) if next_id is not None else ()


def _now(before: Snapshot, row: Noun) -> Noun | None:
    return before.table(type(row)).get(row.id)


def _has_ended(row: Noun | None) -> bool:
    return getattr(row, "ended", None) is not None


def _refuse_hanging(after: Snapshot, gone: Iterable[Noun], ended: Iterable[Noun]) -> None:
    """Refuses to take out what something that stays points to."""
    loose = {(TABLES[type(row)], row.id): row for row in (*gone, *ended)}
    left = {(TABLES[type(row)], row.id) for row in ended}
    tables = {table for table, _ in loose}
    for noun, name in TABLES.items():
        if tables.isdisjoint(POINTS_TO.get(field.name) for field in fields(noun)):
            continue
        for row in getattr(after, name).values():
            for to in references(row):
                if to not in loose:
                    continue
                if to not in left or _may_not_point(after, row, loose[to]):
                    raise not_put_back("undo.needed", after.put(*gone), row)


def _refuse_ending(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses to end again what could not be ended as it is by now."""
    match row:
        case Activity():
            refuse_asked_for(after, {row.id})
            hold = after.hold_of.get(row.id)
            looks = after.attempts_of.get(hold.id, ()) if hold is not None else ()
            if looks and not row.ended_reason:
                raise not_put_back("undo.needed", after, looks[-1])
        case Detail():
            refuse_asked_for(after, {a.id for a in before.chain_of(row.id)})
            if (tie := awaited(after, row)) is not None:
                first, then = (after.activities[id].name for id in (tie.before_id, tie.after_id))
                refused = NotPutBack("plan.detail_awaited", before=first, after=then)
                raise refused.because_of(tie)
        case Layer() if (activity := worked_on(before, row)) is not None:
            hold = before.hold_of.get(activity.id)
            looks = before.attempts_of.get(hold.id, ()) if hold is not None else ()
            refused = NotPutBack("plan.layer_worked_on", layer=row.name, activity=activity.name)
            raise refused.because_of(activity, *looks)


def _refuse_pointing_nowhere(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses what points to something that went, or ended, since it did so last.

    What was ended itself did not count on anything: it is looked at whole, and so is all of the
    work in a detail.
    """
    now = _now(before, row)
    revived = _has_ended(now) and not _has_ended(row)
    known = set(references(now)) if now is not None and not revived else set[tuple[str, str]]()
    rows = [(row, known)]
    if revived and isinstance(row, Detail):
        chain = after.chain_of(row.id)
        rows += [(activity, set()) for activity in chain]
        rows += [(hold, set()) for a in chain if (hold := after.hold_of.get(a.id))]
    for one, points_to in rows:
        for table, id in references(one):
            found: Noun | None = getattr(after, table).get(id)
            if found is None:
                refused = NotPutBack("undo.not_there", what=table, of=said_of(after, one))
                raise refused.because_gone(NOUNS[table], id)
            new = (table, id) not in points_to
            if new and _has_ended(found) and _may_not_point(after, one, found):
                raise not_put_back("undo.ended", after, found)


def _may_not_point(after: Snapshot, row: Noun, ended: Noun) -> bool:
    """Whether a row that points to a thing that has ended would still count on it."""
    match row, ended:
        case (Activity() | HoldPoint(), Crew()):
            id = row.activity_id if isinstance(row, HoldPoint) else row.id
            return any(a.id == id and a.finished is None for a in after.chain)
        case (Activity(), Activity()):
            return row.finished is None
    return isinstance(row, LEAVE_WITH.get(type(ended), ()))


def _refuse_parts(after: Snapshot, row: Noun) -> None:
    """Refuses a layer or a check with fewer parts than something names of it."""
    of: Layer | HoldPoint
    named: list[tuple[Noun, int]]
    match row:
        case Layer() | Effect():
            of = after.layers[row.layer_id] if isinstance(row, Effect) else row
            named = [(e, part) for e in after.effects_on.get(of.id, ()) for part in e.parts]
        case HoldPoint() | Ask():
            of = after.holds[row.hold_id] if isinstance(row, Ask) else row
            named = [(ask, ask.part or 0) for ask in after.asks_of.get(of.id, ())]
            for look in after.attempts_of.get(of.id, ()):
                named += [(look, part) for part in (*look.parts, *look.left_out)]
        case _:
            return
    for by, part in named:
        if part > of.parts:
            raise NotPutBack("undo.part_named", part=part, what=said_of(after, of)).because_of(by)


def _refuse_done(before: Snapshot, row: Noun) -> None:
    """Refuses to change what was done by work, or asked by a check, that is done by now."""
    if isinstance(row, Ask):
        row = before.holds.get(row.hold_id, row)
    id = row.activity_id if isinstance(row, (Effect, HoldPoint)) else ""
    activity = before.activities.get(id)
    if activity is not None and activity.finished is not None:
        raise NotPutBack("plan.done_already", activity=activity.name).because_of(activity)
