"""Whether what is put back goes with all that came since: nothing hangs loose, nothing is doubled.

The rules of the commands have judged the rows once, in the world of then.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from server.core.changes.rings import ring
from server.core.changes.rules_places import falls_back
from server.core.changes.rules_plan import refuse_awaited
from server.core.changes.rules_plan_activities import refuse_booked
from server.core.changes.undoing import NotPutBack
from server.core.refusals import Message, message
from server.core.schedule import Refused
from server.core.world import (
    TABLES,
    Activity,
    Agreed,
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

NAMED_ONCE = (WorkCalendar, Crew, Floor, Place, Way, Detail, Side)


def refuse_what_does_not_fit(
    before: Snapshot, after: Snapshot, gone: Sequence[Noun], back: Sequence[Noun], at: datetime
) -> None:
    """Raises a refusal if `after`, where rows are gone and others back, is no world to go on in."""
    ended = [row for row in back if _ends(before, row)]
    _refuse_hanging(after, gone, ended)
    for row in back:
        _refuse_pointing_nowhere(before, after, row)
        _refuse_doubled(before, after, row)
        match row:
            case Dependency():
                _refuse_ring(after, row)
            case Layer() | Effect() | HoldPoint():
                _refuse_parts(after, row)
            case Place() if above := falls_back(after, row):
                raise NotPutBack("places.open_both_ways", place=above.name).because_of(above)
        if isinstance(row, Layer) and _within_itself(after, row):
            raise NotPutBack("plan.within_itself")
    for row in ended:
        match row:
            case Activity():
                refuse_booked(after, {row.id})
            case Detail():
                refuse_awaited(after, row)
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


def _ends(before: Snapshot, row: Noun) -> bool:
    now = before.table(type(row)).get(row.id)
    return getattr(row, "ended", None) is not None and getattr(now, "ended", None) is None


def _refuse_hanging(after: Snapshot, gone: Iterable[Noun], ended: Iterable[Noun]) -> None:
    """Refuses to take out what something that stays points to."""
    loose = {(TABLES[type(row)], row.id): row for row in (*gone, *ended)}
    left = {(TABLES[type(row)], row.id) for row in ended}
    tables = {table for table, _ in loose}
    for noun, name in TABLES.items():
        pointing = {POINTS_TO.get(field) for field in noun.__dataclass_fields__}
        if tables.isdisjoint(pointing):
            continue
        for row in getattr(after, name).values():
            for to in references(row):
                if to not in loose:
                    continue
                if to not in left or _may_not_point(after, row, loose[to]):
                    raise NotPutBack("undo.needed", what=said_of(after, row)).because_of(row)


def _refuse_pointing_nowhere(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses what points to something that went, or ended, since it did so last."""
    now = before.table(type(row)).get(row.id)
    known = set(references(now)) if now is not None else set[tuple[str, str]]()
    for table, id in references(row):
        found: Noun | None = getattr(after, table).get(id)
        if found is None:
            raise NotPutBack("undo.not_there", what=table)
        ended = getattr(found, "ended", None) is not None
        if ended and (table, id) not in known and _may_not_point(after, row, found):
            raise NotPutBack("undo.ended", what=said_of(after, found)).because_of(found)


def _may_not_point(after: Snapshot, row: Noun, ended: Noun) -> bool:
    """Whether a row that points to a thing that has ended would still count on it."""
    if not isinstance(ended, Crew):
        return isinstance(row, LEAVE_WITH.get(type(ended), ()))
    id = row.activity_id if isinstance(row, HoldPoint) else row.id
    open_work = (a for a in after.chain if a.finished is None)
    return isinstance(row, (Activity, HoldPoint)) and id in {a.id for a in open_work}


def _refuse_doubled(before: Snapshot, after: Snapshot, row: Noun) -> None:
    """Refuses a second thing of one name, and a second dependency of one kind."""
    if isinstance(row, Dependency):
        for other in after.after[row.before_id]:
            if other.id != row.id and (other.after_id, other.type) == (row.after_id, row.type):
                raise NotPutBack("undo.order_there", what=said_of(after, other)).because_of(other)
    if not isinstance(row, NAMED_ONCE) or getattr(row, "ended", None) is not None:
        return
    now = before.table(type(row)).get(row.id)
    if now is not None and not getattr(now, "ended", None) and now.name == row.name:
        return
    for peer in after.table(type(row)).values():
        apart = isinstance(peer, Side) and peer.detail_id != getattr(row, "detail_id", None)
        if peer.id == row.id or apart or getattr(peer, "ended", None) is not None:
            continue
        if peer.name.casefold() == row.name.casefold():
            raise NotPutBack("undo.name_taken", what=said_of(after, peer)).because_of(peer)


def _refuse_ring(after: Snapshot, row: Dependency) -> None:
    if path := ring(after, row.before_id, row.after_id):
        names = tuple(after.activities[id].name for id in path)
        raise NotPutBack("plan.ring", path=names)


def _refuse_parts(after: Snapshot, row: Layer | Effect | HoldPoint) -> None:
    """Refuses a layer or a check with fewer parts than something names of it."""
    named: list[tuple[Noun, int]]
    if isinstance(row, HoldPoint):
        named = [
            (attempt, part)
            for attempt in after.attempts_of.get(row.id, ())
            for part in (*attempt.parts, *attempt.left_out)
        ]
        most = row.parts
    else:
        layer = row if isinstance(row, Layer) else after.layers[row.layer_id]
        named = [(e, part) for e in after.effects_on.get(layer.id, ()) for part in e.parts]
        most = layer.parts
    for by, part in named:
        if part > most:
            raise NotPutBack("undo.part_named", part=part, what=said_of(after, row)).because_of(by)


def _within_itself(after: Snapshot, layer: Layer) -> bool:
    seen, outer = set[str](), after.layers.get(layer.id)
    while outer is not None and outer.id not in seen:
        seen.add(outer.id)
        outer = after.layers.get(outer.within_id or "")
    return outer is not None
