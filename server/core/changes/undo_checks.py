"""Whether what is put back goes with all that came since: nothing hangs loose, nothing is doubled.

The rules of the commands have judged the rows once, in the world of then.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import datetime

from server.core.changes.rings import ring
from server.core.changes.rules_places import falls_back
from server.core.changes.rules_plan import refuse_awaited
from server.core.changes.rules_plan_activities import refuse_booked
from server.core.changes.rules_plan_layers import refuse_worked_on
from server.core.changes.undoing import NotPutBack
from server.core.refusals import Message, message
from server.core.schedule import Refused
from server.core.world import (
    TABLES,
    Activity,
    Agreed,
    Ask,
    Booking,
    Cause,
    Crew,
    Dependency,
    Detail,
    Effect,
    Floor,
    HoldPoint,
    Layer,
    Noun,
    Place,
    Side,
    Snapshot,
    Way,
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

NOT_BOTH = ({"puts in", "covers"}, {"puts in", "needs open"})
NAMED_ONCE = (WorkCalendar, Crew, Floor, Place, Way, Detail, Side)


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
        _refuse_doubled(before, after, row)
        match row:
            case Dependency() if path := ring(after, row.before_id, row.after_id):
                raise NotPutBack("plan.ring", path=tuple(after.activities[id].name for id in path))
            case Layer() if _within_itself(after, row):
                raise NotPutBack("plan.within_itself")
            case Place() if above := falls_back(after, row):
                raise NotPutBack("places.open_both_ways", place=above.name).because_of(above)
        _refuse_parts(after, row)
    for row in (*gone, *back):
        _refuse_done(before, row)
    if after.projects:
        try:
            forecast(after, status_of(at))
        except Refused as refused:
            raise NotPutBack("undo.no_dates", why=refused.message) from refused


def said_of(snapshot: Snapshot, row: Noun) -> Message:
    """A row as a person knows it: what it is, and its name or that of what it belongs to."""
    match row:
        case Dependency():
            owner = row.after_id
        case Effect() | HoldPoint() | Agreed() | Cause():
            owner = row.activity_id or ""
        case Booking():
            owner = next(iter(row.activity_ids), "")
        case _:
            owner = ""
    activity, what = snapshot.activities.get(owner), TABLES[type(row)]
    if name := activity.name if activity is not None else getattr(row, "name", ""):
        return message("undo.row", what=what, name=name)
    return message("undo.some_row", what=what)


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
                    raise NotPutBack("undo.needed", what=said_of(after, row)).because_of(row)


def _refuse_ending(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses to end again what could not be ended as it is by now."""
    match row:
        case Activity():
            refuse_booked(after, {row.id})
            hold = after.hold_of.get(row.id)
            looks = after.attempts_of.get(hold.id, ()) if hold is not None else ()
            if looks and not row.ended_reason:
                needed = NotPutBack("undo.needed", what=said_of(after, looks[-1]))
                raise needed.because_of(looks[-1])
        case Detail():
            refuse_awaited(after, row)
        case Layer():
            refuse_worked_on(before, row)


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
                raise NotPutBack("undo.not_there", what=table)
            new = (table, id) not in points_to
            if new and _has_ended(found) and _may_not_point(after, one, found):
                raise NotPutBack("undo.ended", what=said_of(after, found)).because_of(found)


def _may_not_point(after: Snapshot, row: Noun, ended: Noun) -> bool:
    """Whether a row that points to a thing that has ended would still count on it."""
    match row, ended:
        case (Activity() | HoldPoint(), Crew()):
            id = row.activity_id if isinstance(row, HoldPoint) else row.id
            return any(a.id == id and a.finished is None for a in after.chain)
        case (Activity(), Activity()):
            return row.finished is None
    return isinstance(row, LEAVE_WITH.get(type(ended), ()))


def _refuse_doubled(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses a second thing of one name, and a second row that says the same."""
    peers: Iterable[Noun] = ()
    match row:
        case Dependency():
            ties = after.after[row.before_id]
            peers = (d for d in ties if (d.after_id, d.type) == (row.after_id, row.type))
        case Effect():
            effects = (e for e in after.effects_of[row.activity_id] if e.layer_id == row.layer_id)
            peers = (e for e in effects if e.verb == row.verb or {e.verb, row.verb} in NOT_BOTH)
        case Ask():
            asks = after.asks_of[row.hold_id]
            peers = (ask for ask in asks if (ask.label, ask.part) == (row.label, row.part))
    for peer in peers:
        if peer.id != row.id:
            raise NotPutBack("undo.doubled", what=said_of(after, peer)).because_of(peer)
    now = _now(before, row)
    if not isinstance(row, NAMED_ONCE) or _has_ended(row):
        return
    if isinstance(now, NAMED_ONCE) and not _has_ended(now) and now.name == row.name:
        return
    for other in after.table(type(row)).values():
        apart = isinstance(other, Side) and other.detail_id != getattr(row, "detail_id", None)
        if other.id == row.id or apart or _has_ended(other):
            continue
        if other.name.casefold() == row.name.casefold():
            raise NotPutBack("undo.name_taken", what=said_of(after, other)).because_of(other)


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


def _within_itself(after: Snapshot, layer: Layer) -> bool:
    seen, outer = set[str](), after.layers.get(layer.id)
    while outer is not None and outer.id not in seen:
        seen.add(outer.id)
        outer = after.layers.get(outer.within_id or "")
    return outer is not None
