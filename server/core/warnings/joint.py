"""The warning of crews that do work together and are asked for different hours."""

from collections.abc import Iterable, Iterator

from server.core.changes.bookings import MoveVisit
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.visits import wanted
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Booking, Snapshot

APART = "crews come apart"
APART_TITLE = message("warning.come_apart.title")


@warns(APART, title=APART_TITLE, bad="in the way", family="booking")
def crews_come_apart(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Crews that do a task together are asked for hours that they do not have in common.

    A crew that is not asked at all is told by "ready, nobody booked".
    """
    for activity in snapshot.chain:
        if activity.started or activity.finished or len(activity.crew_ids) < 2:
            continue
        visits = wanted(snapshot, activity.id, schedule.status)
        asked = [id for id in activity.crew_ids if any(v.crew_id == id for v in visits)]
        if len(asked) > 1 and not any(_all_there(v, visits, asked) for v in visits):
            yield _apart(snapshot, schedule, activity, visits, asked)


def _all_there(visit: Booking, visits: tuple[Booking, ...], crew_ids: list[str]) -> bool:
    """Whether every crew is asked for some of the hours of a visit."""
    return all(
        any(v.crew_id == id and v.start < visit.finish and visit.start < v.finish for v in visits)
        for id in crew_ids
    )


def _apart(
    snapshot: Snapshot,
    schedule: Schedule,
    activity: Activity,
    visits: tuple[Booking, ...],
    asked: list[str],
) -> Warning:
    first = [next(v for v in visits if v.crew_id == id) for id in asked]
    first.sort(key=lambda visit: visit.start)
    return Warning(
        rule=APART,
        bad="in the way",
        title=APART_TITLE,
        sentence=message(
            "warning.come_apart.said",
            work=activity.name,
            crew=snapshot.crews[first[0].crew_id].name,
            when=first[0].start,
            other=snapshot.crews[first[-1].crew_id].name,
            then=first[-1].start,
        ),
        subject=(activity.id,),
        identity=identity(APART, activity.id, *(f"{v.id} {v.start}" for v in first)),
        at=first[0].start,
        detail_id=activity.detail_id,
        activity_ids=(activity.id,),
        place_ids=places_of(snapshot, (activity.id,)),
        crew_id=first[0].crew_id,
        mends=tuple(_mends(snapshot, schedule, first)),
    )


def _mends(snapshot: Snapshot, schedule: Schedule, first: list[Booking]) -> Iterator[Mend]:
    """All when the last comes; or all when the first does, if that is still to come."""
    for visit in (first[-1], first[0]):
        if visit.start > schedule.status:
            moved = tuple(
                MoveVisit(booking_id=other.id, start=visit.start, finish=visit.finish)
                for other in first
                if other is not visit
            )
            crews = tuple(snapshot.crews[v.crew_id].name for v in first if v is not visit)
            yield Mend(message("warning.ask_together", crews=crews, day=visit.start), moved)
