"""Whether what is put back is there a second time by now: its name, its place, what it says."""

from collections.abc import Iterable

from server.core.changes.rules_own_patterns import MOST
from server.core.changes.rules_plan_layers import layers_of
from server.core.changes.undoing import NotPutBack, not_put_back
from server.core.world import (
    Ask,
    Crew,
    Dependency,
    Detail,
    Effect,
    Floor,
    KeptFigure,
    Layer,
    Noun,
    OwnPattern,
    Place,
    Side,
    Snapshot,
    Way,
    WorkCalendar,
)

NOT_BOTH = ({"puts in", "covers"}, {"puts in", "needs open"})
NamedOnce = WorkCalendar | Crew | OwnPattern | Floor | Place | Way | Detail | Side
NAMED_ONCE = (WorkCalendar, Crew, OwnPattern, Floor, Place, Way, Detail, Side)


def refuse_doubled(before: Snapshot, after: Snapshot, row: Noun) -> None:
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
        case KeptFigure() if row.hold_id is not None:
            peers = (k for k in after.kept_figures.values() if k.hold_id == row.hold_id)
        case Floor() | Layer():
            peers = _in_its_place(before, after, row)
    for peer in peers:
        if peer.id != row.id:
            raise not_put_back("undo.doubled", after, peer)
    if isinstance(row, NAMED_ONCE) and not _ended(row):
        _refuse_name(before, after, row)
    if isinstance(row, OwnPattern) and not _ended(row):
        standing = [p for p in after.own_patterns.values() if p.ended is None]
        if len(standing) > MOST >= len([p for p in before.own_patterns.values() if not p.ended]):
            raise NotPutBack("patterns.too_many", most=MOST).because_of(*standing)


def _in_its_place(before: Snapshot, after: Snapshot, row: Floor | Layer) -> list[Noun]:
    """What is as high as a floor, or as far from the bearing side as a layer, that comes there."""
    now = before.table(type(row)).get(row.id)
    if _ended(row) or (now is not None and not _ended(now) and now.order == row.order):
        return []
    if isinstance(row, Floor):
        return [floor for floor in after.floors.values() if floor.order == row.order]
    return [x for x in layers_of(after, row.side_id) if x.order == row.order]


def _refuse_name(before: Snapshot, after: Snapshot, row: NamedOnce) -> None:
    now = before.table(type(row)).get(row.id)
    if now is not None and not _ended(now) and now.name == row.name:
        return
    for other in after.table(type(row)).values():
        apart = isinstance(other, Side) and other.detail_id != getattr(row, "detail_id", None)
        if other.id == row.id or apart or _ended(other):
            continue
        if other.name.casefold() == row.name.casefold():
            raise not_put_back("undo.name_taken", after, other)


def _ended(row: Noun) -> bool:
    return getattr(row, "ended", None) is not None
