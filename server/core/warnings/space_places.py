"""Warnings of places: more crews at the same hours than there is room for."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from server.core.changes.places import KeepPlace
from server.core.changes.rules_places import MOST_ROOM
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import STRENGTH, Stand, firm_stands
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import elsewhen
from server.core.world import Place, Snapshot

MANY = "too many in one place"
MANY_TITLE = message("warning.too_many.title")
SHORT = 120
"""Minutes. Common practice: a visit shorter than this goes beside others."""


@dataclass(frozen=True)
class Crowd:
    """Crews at the same hours in one place, and how many that are: joint work counts as one."""

    stands: tuple[Stand, ...]
    groups: int

    @property
    def crews(self) -> frozenset[str]:
        return frozenset(stand.crew_id for stand in self.stands)


@warns(MANY, title=MANY_TITLE, bad="in the way", family="space")
def too_many(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """More crews at the same hours than a place has room for.

    Crews that do one task together count as one, and who is there for less than two hours that
    day is let in beside the others. Each set of crews is told once, for the first day.
    """
    stands = firm_stands(snapshot, schedule)
    days: dict[tuple[str, date], list[Stand]] = {}
    for stand in stands:
        days.setdefault((stand.place_id, stand.start.date()), []).append(stand)
    told: set[tuple[str, frozenset[str]]] = set()
    for (place_id, _), there in days.items():
        place = snapshot.places[place_id]
        for crowd in _crowds(there, place.room_for):
            if (place_id, crowd.crews) not in told:
                told.add((place_id, crowd.crews))
                yield _too_many(snapshot, schedule, stands, place, crowd)


def _crowds(there: Sequence[Stand], room: int) -> Iterator[Crowd]:
    """The largest sets of crews of a day that are more than there is room for."""
    minutes: dict[str, int] = {}
    for stand in there:
        minutes[stand.crew_id] = minutes.get(stand.crew_id, 0) + stand.minutes
    longer = [stand for stand in there if minutes[stand.crew_id] >= SHORT]
    if len({stand.crew_id for stand in longer}) <= room:
        return
    found = [crowd for first in longer if (crowd := _at(longer, first.start)).groups > room]
    for number, crowd in enumerate(found):
        if any(crowd.crews < c.crews for c in found):
            continue
        if not any(crowd.crews == c.crews for c in found[:number]):
            yield crowd


def _at(there: Sequence[Stand], moment: datetime) -> Crowd:
    stands = tuple(s for s in there if s.start <= moment < s.finish)
    groups: list[set[str]] = []
    for stand in stands:
        ids = set(stand.activity_ids)
        joined = [group for group in groups if group & ids]
        groups = [g for g in groups if not g & ids] + [ids.union(*joined)]
    return Crowd(stands, len(groups))


def _too_many(
    snapshot: Snapshot, schedule: Schedule, stands: Sequence[Stand], place: Place, crowd: Crowd
) -> Warning:
    # whoever was asked last goes first
    order = sorted(crowd.stands, key=lambda s: _asked(snapshot, s), reverse=True)
    ids = tuple(dict.fromkeys(id for s in crowd.stands for id in s.activity_ids))
    crews = sorted(crowd.crews)
    at = max(s.start for s in crowd.stands)
    return Warning(
        rule=MANY,
        bad="in the way",
        title=MANY_TITLE,
        sentence=message(
            "warning.too_many.said",
            crews=tuple(snapshot.crews[id].name for id in crews),
            place=place.name,
            when=at,
            room=place.room_for,
        ),
        subject=(place.id, *crews),
        identity=identity(MANY, place.id, place.room_for, at.date(), *crews),
        at=at,
        detail_id=snapshot.activities[ids[0]].detail_id,
        activity_ids=ids,
        place_ids=(place.id,),
        crew_id=order[0].crew_id,
        mends=tuple(_mends(snapshot, schedule, stands, place, crowd, order)),
    )


def _asked(snapshot: Snapshot, stand: Stand) -> tuple[int, datetime]:
    """When it was asked for: what is under way first, what is only forecast last."""
    asked = (snapshot.bookings[id].asked_at for id in stand.visit_ids)
    return STRENGTH[stand.why], max(asked, default=stand.start)


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    place: Place,
    crowd: Crowd,
    order: Sequence[Stand],
) -> Iterator[Mend]:
    """One crew less, for each that could come another day; or there is room after all."""
    if crowd.groups == place.room_for + 1:
        for stand in order[:2]:
            room = place.room_for
            mend = elsewhen(snapshot, schedule, stands, stand, {place.id}, room=room)
            if mend is not None:
                yield mend
    if crowd.groups <= MOST_ROOM:
        yield Mend(
            message("warning.room_for", room=crowd.groups, place=place.name),
            (
                KeepPlace(
                    id=place.id,
                    name=place.name,
                    floor_id=place.floor_id,
                    room_for=crowd.groups,
                    open_to=place.open_to,
                    air=place.air,
                ),
            ),
        )
