"""Warnings of crews: in more places at once than they can man; often asked for little."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta

from server.core.changes import Command
from server.core.changes.bookings import AskVisit, EndVisit
from server.core.changes.inputs import ids_after
from server.core.changes.people import KeepCrew
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.shifts import hours_of_crew
from server.core.standing import Stand, firm_stands, places_of
from server.core.states import ahead, behind
from server.core.visits import end_of, is_open, still_to_do
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import elsewhen
from server.core.world import Activity, Booking, Crew, Snapshot
from server.core.world.hours import working_minutes

TWO = "crew in two places"
TWO_TITLE = message("warning.two_places.title")
OFTEN = "too much trade for one visit"
OFTEN_TITLE = message("warning.often.title")
HALF_DAY = 240
"""Working minutes. A visit under half a day is a short one."""
FORTNIGHT = timedelta(days=14)
VISITS = 3


@warns(TWO, title=TWO_TITLE, bad="in the way", family="space")
def crew_in_two_places(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A crew in more places at the same hours than it can field people for.

    Over all details of this project: a snapshot holds one, and what the crew does in other
    projects is not seen here. Each set of places is told once, for the first day.
    """
    stands = firm_stands(snapshot, schedule)
    days: dict[tuple[str, date], list[Stand]] = {}
    for stand in stands:
        days.setdefault((stand.crew_id, stand.start.date()), []).append(stand)
    told: set[tuple[str, ...]] = set()
    for (crew_id, _), there in days.items():
        crew = snapshot.crews[crew_id]
        for moment in (stand.start for stand in there):
            at_once = [s for s in there if s.start <= moment < s.finish]
            places = {s.place_id for s in at_once}
            subject = (crew_id, *sorted(places))
            if len(places) > crew.can_field and subject not in told:
                told.add(subject)
                yield _two(snapshot, schedule, stands, crew, at_once)


def _two(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    crew: Crew,
    at_once: Sequence[Stand],
) -> Warning:
    at = max(s.start for s in at_once)
    places = sorted({s.place_id for s in at_once}, key=lambda place: snapshot.places[place].order)
    ids = tuple(dict.fromkeys(id for s in at_once for id in s.activity_ids))
    return Warning(
        rule=TWO,
        bad="in the way",
        title=TWO_TITLE,
        sentence=message(
            "warning.two_places.said",
            crew=crew.name,
            when=at,
            places=tuple(snapshot.places[id].name for id in places),
            work=tuple(snapshot.activities[id].name for id in ids),
            field=crew.can_field,
        ),
        subject=(crew.id, *sorted(places)),
        identity=identity(TWO, crew.id, crew.can_field, at.date(), *sorted(ids)),
        at=at,
        detail_id=snapshot.activities[ids[0]].detail_id,
        activity_ids=ids,
        place_ids=tuple(places),
        crew_id=crew.id,
        mends=tuple(_mends(snapshot, schedule, stands, crew, at_once, len(places))),
    )


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    crew: Crew,
    at_once: Sequence[Stand],
    places: int,
) -> Iterator[Mend]:
    """One of its visits on another day, the later first; or it can man so many places."""
    if places == crew.can_field + 1:
        for stand in sorted(at_once, key=lambda s: s.start, reverse=True)[:2]:
            room = snapshot.places[stand.place_id].room_for
            mend = elsewhen(snapshot, schedule, stands, stand, {stand.place_id}, room=room)
            if mend is not None:
                yield mend
    yield Mend(
        message("warning.can_field", crew=crew.name, places=places),
        (
            KeepCrew(
                id=crew.id,
                name=crew.name,
                trade=crew.trade,
                foreman=crew.foreman,
                phone=crew.phone,
                language=crew.language,
                calendar_id=crew.calendar_id,
                can_field=places,
                least_visit=crew.least_visit,
                notice=crew.notice,
            ),
        ),
    )


@warns(OFTEN, title=OFTEN_TITLE, bad="watch", family="space")
def often(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A crew asked for three or more visits under half a day in a fortnight that could be one.

    They could be one if by the last of them all the work is ready, nothing of others lies between
    its tasks, the dates of the house stay, and it fits in a day.
    """
    short: dict[str, list[Booking]] = {}
    for visit in sorted(snapshot.bookings.values(), key=lambda b: b.start):
        crew = snapshot.crews[visit.crew_id]
        hours = hours_of_crew(snapshot, crew)
        if not is_open(visit, schedule.status) or visit.start <= schedule.status:
            continue
        if working_minutes(hours, visit.start, visit.finish) < HALF_DAY:
            short.setdefault(crew.id, []).append(visit)
    for crew_id, visits in short.items():
        for first in visits:
            near = [v for v in visits if first.start <= v.start < first.start + FORTNIGHT]
            tasks = tuple(dict.fromkeys(a for v in near for a in still_to_do(snapshot, v)))
            if len(near) >= VISITS and _could_be_one(snapshot, schedule, near, tasks):
                yield _often(snapshot, snapshot.crews[crew_id], near, tasks)
                break


def _could_be_one(
    snapshot: Snapshot, schedule: Schedule, visits: Sequence[Booking], tasks: Sequence[Activity]
) -> bool:
    if not tasks:
        return False
    start, ids = visits[-1].start, {a.id for a in tasks}
    if end_of(snapshot, tasks, start).date() > start.date():
        return False
    for task in tasks:
        dates = schedule[task.id]
        in_time = dates.early_start <= start and start.date() <= dates.late_start.date()
        if not (in_time or dates.early_start.date() == start.date()):
            return False
        between = behind(snapshot, task.id)
        for other in tasks:
            if other.id in between and (between & ahead(snapshot, other.id)) - ids:
                return False
    return True


def _often(
    snapshot: Snapshot, crew: Crew, visits: Sequence[Booking], tasks: Sequence[Activity]
) -> Warning:
    ordered = tuple(sorted(tasks, key=lambda a: a.order))
    ids = tuple(a.id for a in ordered)
    last = visits[-1]
    ends: tuple[Command, ...] = tuple(EndVisit(booking_id=v.id) for v in visits)
    ask = AskVisit(
        id=next(ids_after(ids[0], snapshot.bookings)),
        activity_ids=ids,
        start=last.start,
        finish=end_of(snapshot, ordered, last.start),
    )
    return Warning(
        rule=OFTEN,
        bad="watch",
        title=OFTEN_TITLE,
        sentence=message(
            "warning.often.said",
            crew=crew.name,
            visits=len(visits),
            first=visits[0].start,
            last=last.start,
            work=tuple(a.name for a in ordered),
        ),
        subject=(crew.id,),
        identity=identity(OFTEN, crew.id, *(f"{v.id} {v.start}" for v in visits)),
        at=visits[0].start,
        detail_id=ordered[0].detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        crew_id=crew.id,
        mends=(Mend(message("warning.one_visit", crew=crew.name, day=last.start), (*ends, ask)),),
    )
