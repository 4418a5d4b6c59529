"""Warnings of places: one that adhesive, finish or grout closes, and somebody comes."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from server.core.asked import as_asked, begins
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import Stand, firm_stands, place_of
from server.core.states import behind
from server.core.visits import not_ready_for, wanted
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import elsewhen
from server.core.world import Activity, Snapshot
from server.core.world.hours import first_hour

CLOSED = "place closed, someone booked"
CLOSED_TITLE = message("warning.place_closed.title")


@warns(CLOSED, title=CLOSED_TITLE, bad="danger", family="space")
def place_closed(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Somebody stands in a place in the hours in which a wait closes it.

    The wait is running, or what begins it is under way or asked for: a mere forecast closes
    nothing. Not whoever begins it, and not a visit that waits for it and comes too soon: that is
    told as booked before ready.
    """
    waits = [
        (wait, place_id)
        for wait in snapshot.chain
        if wait.closes_place and wait.id not in schedule.done
        if (place_id := place_of(snapshot, wait)) and _comes(snapshot, schedule, wait)
    ]
    if not waits:
        return
    stands = firm_stands(snapshot, schedule)
    shuts = as_asked(schedule, begins(snapshot, schedule), [wait.id for wait, _ in waits])
    for wait, place_id in waits:
        dates = shuts[wait.id]
        told: set[str] = set()
        for stand in stands:
            meets = stand.start < dates.early_finish and dates.early_start < stand.finish
            if stand.place_id != place_id or not meets or stand.crew_id in told:
                continue
            if not _told_else(snapshot, schedule, wait, stand):
                told.add(stand.crew_id)
                yield _closed(snapshot, schedule, stands, wait, stand, dates.early_finish)


def _comes(snapshot: Snapshot, schedule: Schedule, wait: Activity) -> bool:
    """Whether a wait runs, or what it waits for is under way or has a visit."""
    if schedule[wait.id].early_start <= schedule.status:
        return True
    before = (snapshot.activities[d.before_id] for d in snapshot.before.get(wait.id, ()))
    return any(
        a.started is not None or wanted(snapshot, a.id, schedule.status)
        for a in before
        if a.finished is None and a.ended is None
    )


def _told_else(snapshot: Snapshot, schedule: Schedule, wait: Activity, stand: Stand) -> bool:
    """Whether the stand begins the wait, or is told of as a visit before its work is ready."""
    after = behind(snapshot, wait.id)
    its_own = (wait.id, *(id for id in stand.activity_ids if wait.id in behind(snapshot, id)))
    tasks = [id for id in stand.activity_ids if id not in its_own]
    if not tasks:
        return True
    visits = (snapshot.bookings[id] for id in stand.visit_ids)
    return any(
        (late := not_ready_for(snapshot, schedule, visit)) is not None and late.id in after
        for visit in visits
    )


def _closed(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: tuple[Stand, ...],
    wait: Activity,
    stand: Stand,
    till: datetime,
) -> Warning:
    place = snapshot.places[stand.place_id]
    return Warning(
        rule=CLOSED,
        bad="danger",
        title=CLOSED_TITLE,
        sentence=message(
            "warning.place_closed.said",
            crew=snapshot.crews[stand.crew_id].name,
            place=place.name,
            when=stand.start,
            wait=wait.name,
            till=till,
        ),
        subject=(wait.id, stand.crew_id),
        identity=identity(CLOSED, wait.id, stand.crew_id, stand.start.date(), till.date()),
        at=stand.start,
        detail_id=wait.detail_id,
        activity_ids=(*stand.activity_ids, wait.id),
        place_ids=(place.id,),
        crew_id=stand.crew_id,
        mends=tuple(_mends(snapshot, schedule, stands, stand, till)),
    )


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: tuple[Stand, ...],
    stand: Stand,
    till: datetime,
) -> Iterator[Mend]:
    """The crew comes when the place is open again."""
    task = snapshot.activities[stand.activity_ids[0]]
    open_again = first_hour(snapshot, task, till)
    room = snapshot.places[stand.place_id].room_for
    mend = elsewhen(
        snapshot, schedule, stands, stand, {stand.place_id}, room=room, after=open_again
    )
    if mend is not None:
        yield mend
