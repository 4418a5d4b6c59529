"""Warnings of ways: the only way out of a floor is out while people stand there."""

from collections.abc import Iterable, Iterator, Sequence

from server.core.asked import begins
from server.core.changes.inputs import ids_after
from server.core.changes.places import KeepWay
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.shifts import shift_ends, site_hours
from server.core.standing import Stand, firm_stands
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import elsewhen
from server.core.ways import Cut, cuts, turns
from server.core.world import Snapshot

CUT = "way cut off"
CUT_TITLE = message("warning.way_cut_off.title")


@warns(CUT, title=CUT_TITLE, bad="danger", family="space")
def way_cut_off(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A floor's last way out is out when a shift ends, or overnight, and people stand up there.

    They have no way out, nor has one who is hurt. A ladder is a way for people, and none for a
    crew that carries.
    """
    shuts = [a for a in snapshot.chain if a.closes_way_id]
    if not shuts and not any(way.closed for way in snapshot.ways.values()):
        return
    stands = firm_stands(snapshot, schedule)
    changes = turns(snapshot, schedule, begins(snapshot, schedule))
    told: set[tuple[str, str]] = set()
    for carrying in (False, True):
        for cut in cuts(snapshot, changes, carrying=carrying):
            above = _above(snapshot, schedule, stands, cut)
            above = [s for s in above if s.heavy] if carrying else above
            subject = (cut.shut.way.id, cut.floor_id)
            if above and subject not in told and _lasts(snapshot, schedule, cut):
                told.add(subject)
                yield _cut(snapshot, schedule, stands, cut, above, carrying)


def _above(
    snapshot: Snapshot, schedule: Schedule, stands: Sequence[Stand], cut: Cut
) -> list[Stand]:
    """Who stands on the floor meanwhile, but for the work that shuts the way."""
    own = cut.shut.by.id if cut.shut.by else ""
    return [
        s
        for s in stands
        if snapshot.places[s.place_id].floor_id == cut.floor_id
        if s.finish > cut.shut.at and (cut.until is None or s.start < cut.until)
        if s.activity_ids != (own,)
    ]


def _lasts(snapshot: Snapshot, schedule: Schedule, cut: Cut) -> bool:
    """Whether the end of a shift still to come lies in it."""
    end = next(shift_ends(site_hours(snapshot), max(cut.shut.at, schedule.status)), None)
    return cut.until is None or (end is not None and end < cut.until)


def _cut(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    cut: Cut,
    above: Sequence[Stand],
    carrying: bool,
) -> Warning:
    way, by, floor = cut.shut.way, cut.shut.by, snapshot.floors[cut.floor_id]
    first = above[0]
    crews = tuple(dict.fromkeys(s.crew_id for s in above))
    at = max(first.start, cut.shut.at)
    ids = tuple(
        dict.fromkeys((*([by.id] if by else []), *(i for s in above for i in s.activity_ids)))
    )
    return Warning(
        rule=CUT,
        bad="danger",
        title=CUT_TITLE,
        sentence=message(
            "warning.way_cut_off.carry" if carrying else "warning.way_cut_off.said",
            way=way.name,
            out=cut.shut.at,
            floor=floor.name,
            crews=tuple(snapshot.crews[id].name for id in crews),
            when=at,
        ),
        subject=(way.id, floor.id),
        identity=identity(CUT, way.id, floor.id, cut.shut.at.date(), *crews, carrying),
        at=at,
        detail_id=by.detail_id if by else None,
        activity_ids=ids,
        place_ids=tuple(dict.fromkeys(s.place_id for s in above)),
        crew_id=by.crew_id if by else first.crew_id,
        mends=tuple(_mends(snapshot, schedule, stands, cut, above)),
    )


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    cut: Cut,
    above: Sequence[Stand],
) -> Iterator[Mend]:
    """The way goes on a day when nobody is above; whoever is, comes after; or another way is in."""
    way, by = cut.shut.way, cut.shut.by
    own = next((s for s in stands if by and by.id in s.activity_ids), None)
    floor = {p.id for p in snapshot.places.values() if p.floor_id == cut.floor_id}
    if own is not None:
        mend = elsewhen(snapshot, schedule, stands, own, floor)
        if mend is not None:
            yield mend
    if cut.until is not None and len({s.crew_id for s in above}) == 1:
        stand = above[0]
        room = snapshot.places[stand.place_id].room_for
        mend = elsewhen(
            snapshot, schedule, stands, stand, {stand.place_id}, room=room, after=cut.until
        )
        if mend is not None:
            yield mend
    another = KeepWay(
        id=next(ids_after(way.id, snapshot.ways)),
        name=_name(snapshot, way.name),
        lower_id=way.lower_id,
        upper_id=way.upper_id,
    )
    label = message("warning.another_way", floor=snapshot.floors[cut.floor_id].name)
    yield Mend(label, (another,))


def _name(snapshot: Snapshot, name: str) -> str:
    taken = {way.name.casefold() for way in snapshot.ways.values()}
    return next(n for no in range(2, 1000) if (n := f"{name} {no}").casefold() not in taken)
