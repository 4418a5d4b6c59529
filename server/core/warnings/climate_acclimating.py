"""The warning of finish wood that has not come to rest in the room it is fitted in."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction

from server.core.changes.pushing import PutOff
from server.core.climate import APART, WEEK, average, moving, place_of, series
from server.core.coming import Coming, coming, later, notice_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import ahead
from server.core.visits import first_day
from server.core.wanted_air import WOOD_APART, wood_settles_at
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Reading, Snapshot

RULE = "acclimating too short"
TITLE = message("warning.acclimating.title")


@dataclass(frozen=True)
class Unrest:
    """Why wood is not at rest: its newest reading that still changes, or how far it is away.

    `room` is what the air of the last week brings wood to, `carrier` the newest reading of what
    carries it; each with the reading of the wood that is farthest from it.
    """

    moves: Reading | None
    room: tuple[Reading, Fraction] | None
    carrier: tuple[Reading, Reading] | None

    @property
    def any(self) -> bool:
        """Whether it is not."""
        return bool(self.moves or self.room or self.carrier)


@warns(RULE, title=TITLE, bad="lost work", family="climate")
def acclimating_too_short(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Finish wood is fitted, or a crew comes to fit it, before readings say that it is at rest.

    It still changes, or it is more than two points away from what the room brings it to, or from
    what carries it. A visit farther off than two days after the newest reading, and than its crew's
    notice, may find it at rest. Where nobody has read it nothing is said here.
    """
    for work in snapshot.chain:
        place_id = place_of(snapshot, work) if work.finish_wood else None
        at_hand = coming(snapshot, schedule, work) if place_id else None
        if place_id is None or at_hand is None:
            continue
        found = _unrest(snapshot, schedule, work, place_id)
        near = schedule.status + notice_of(snapshot, work)
        if found.moves is not None:
            near = max(near, found.moves.at + APART)
        if found.any and (at_hand.how != "visit" or at_hand.at <= near):
            yield _warning(snapshot, schedule, at_hand, found, near)


def _unrest(snapshot: Snapshot, schedule: Schedule, work: Activity, place_id: str) -> Unrest:
    """What readings say of the wood for a task.

    Its wood are the spots first read when it had come; those read before carry it. Where no
    delivery brings it, all spots are its wood.
    """
    status = schedule.status
    since = _came(snapshot, work)
    spots = series(snapshot, place_id, "wood", until=status)
    wood = [spot for spot in spots if since is None or spot[0].at >= since]
    carries = [spot[-1] for spot in spots if spot not in wood]
    carries = [r for r in carries if status - r.at <= timedelta(days=WEEK)]
    newest = [spot[-1] for spot in wood]
    air, humidity = (average(snapshot, place_id, w, status) for w in ("air", "humidity"))
    room = carrier = None
    if newest and air is not None and humidity is not None:
        rest = wood_settles_at(air, humidity)
        farthest = max(newest, key=lambda r: abs(r.value - rest))
        room = (farthest, rest) if abs(farthest.value - rest) > WOOD_APART else None
    if newest and carries:
        pairs = [(r, other) for r in newest for other in carries]
        apart = max(pairs, key=lambda pair: abs(pair[0].value - pair[1].value))
        carrier = apart if abs(apart[0].value - apart[1].value) > WOOD_APART else None
    return Unrest(moving(wood), room, carrier)


def _came(snapshot: Snapshot, work: Activity) -> datetime | None:
    """When the last delivery before a task came; finish wood, where some of them bring it."""
    before = ahead(snapshot, work.id)
    came = [a for a in snapshot.chain if a.id in before and a.kind == "delivery" and a.finished]
    wood = [a for a in came if a.finish_wood] or came
    return max((a.finished for a in wood if a.finished), default=None)


def _warning(
    snapshot: Snapshot, schedule: Schedule, at_hand: Coming, found: Unrest, near: datetime
) -> Warning:
    work = at_hand.work
    return Warning(
        rule=RULE,
        bad="lost work",
        title=TITLE,
        sentence=message("warning.acclimating.said", work=at_hand.said, unrest=tuple(_said(found))),
        subject=(work.id,),
        identity=identity(RULE, *at_hand.fact, *_facts(found)),
        at=at_hand.at,
        detail_id=work.detail_id,
        activity_ids=(work.id,),
        place_ids=places_of(snapshot, (work.id,)),
        crew_id=work.crew_id,
        mends=tuple(_mends(snapshot, schedule, at_hand, near)),
    )


def _said(found: Unrest) -> Iterator[Message]:
    if found.moves is not None:
        read = found.moves
        yield message("warning.acclimating.moves", value=read.value, unit=read.unit, at=read.at)
    if found.room is not None:
        read, rest = found.room
        yield message("warning.acclimating.room", value=read.value, unit=read.unit, rest=rest)
    if found.carrier is not None:
        read, other = found.carrier
        yield message(
            "warning.acclimating.carrier", value=read.value, unit=read.unit, other=other.value
        )


def _facts(found: Unrest) -> Iterator[object]:
    yield found.moves.value if found.moves else ""
    yield found.room[0].value if found.room else ""
    yield tuple(r.value for r in found.carrier) if found.carrier else ""


def _mends(
    snapshot: Snapshot, schedule: Schedule, at_hand: Coming, near: datetime
) -> Iterator[Mend]:
    """The crew asked for a day on which it may be at rest; without a visit, not before that day."""
    work, visit = at_hand.work, at_hand.visit
    if visit is not None and (move := later(snapshot, schedule, visit, near)):
        crew = snapshot.crews[visit.crew_id].name
        yield Mend(message("warning.move_visit", crew=crew, day=move[0]), (move[1],))
    if at_hand.how == "soon":
        day = first_day(snapshot, work, near + timedelta(minutes=1))
        label = message("warning.wood_not_before", wood=work.name, day=day)
        yield Mend(label, (PutOff(activity_id=work.id, until=day),))
