"""Who stands where when: crews in places, shift by shift, and which of them meet."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import Literal

from server.core.schedule import Schedule
from server.core.shifts import Shift, days_between, end_after, hours_of_crew, shifts_of
from server.core.visits import is_open
from server.core.world import Activity, Booking, Snapshot

Why = Literal["under way", "visit", "forecast"]
STRENGTH: dict[Why, int] = {"under way": 0, "visit": 1, "forecast": 2}
FAR = 1500
"""More days than any visit lies ahead."""


@dataclass(frozen=True)
class Stand:
    """One crew in one place in one shift, for what, and what says so (the surest that does).

    `firm`: somebody is asked, or it is under way, or it follows within the crew's notice on what
    the crew does in that detail anyway. `overhead`, `heavy`: some of the work is. `visit_ids` are
    the visits that it comes from.
    """

    crew_id: str
    place_id: str
    activity_ids: tuple[str, ...]
    start: datetime
    finish: datetime
    why: Why
    firm: bool
    overhead: bool
    heavy: bool
    visit_ids: tuple[str, ...] = ()

    @property
    def minutes(self) -> int:
        """How long it is."""
        return int((self.finish - self.start).total_seconds()) // 60


def standing(snapshot: Snapshot, schedule: Schedule, first: date, days: int) -> tuple[Stand, ...]:
    """Where crews stand in so many days from `first`: one for each crew, place and shift.

    What is only forecast stands apart from what is firm. By start, then crew and place. Shifts
    that are over as of the status are left out, and so is work without a place or a crew. A visit
    for tasks in several places does one after the other, the last until it ends. A crew asked for
    hours outside its shifts stands there in those hours. Only this project is seen.
    """
    return _standing(snapshot, schedule, first, days, firm=False)


def firm_stands(snapshot: Snapshot, schedule: Schedule) -> tuple[Stand, ...]:
    """The firm ones from today on, however far ahead."""
    return _standing(snapshot, schedule, schedule.status.date(), FAR, firm=True)


def meeting(stands: Iterable[Stand]) -> Iterator[tuple[Stand, Stand]]:
    """All pairs that have some time in common, the one that begins earlier first."""
    there: list[Stand] = []
    for stand in sorted(stands, key=_order):
        there = [other for other in there if other.finish > stand.start]
        for other in there:
            yield other, stand
        there.append(stand)


def place_of(snapshot: Snapshot, activity: Activity) -> str | None:
    """The place of an activity: its own, else its detail's."""
    return activity.place_id or snapshot.details[activity.detail_id].place_id


def places_of(snapshot: Snapshot, activity_ids: Iterable[str]) -> tuple[str, ...]:
    """The places where these stand, or their details do, each once."""
    places = (place_of(snapshot, snapshot.activities[id]) for id in activity_ids)
    return tuple(dict.fromkeys(place for place in places if place))


def crews_of(activity: Activity) -> tuple[str, ...]:
    """The ids of the crews that do an activity."""
    return activity.crew_ids


def _order(stand: Stand) -> tuple[datetime, str, str, bool]:
    return stand.start, stand.crew_id, stand.place_id, not stand.firm


def _standing(
    snapshot: Snapshot, schedule: Schedule, first: date, days: int, *, firm: bool
) -> tuple[Stand, ...]:
    begin = datetime.combine(first, time(0))
    end = begin + timedelta(days=days)
    found: dict[tuple[str, str, datetime, bool], Stand] = {}
    for whole in _spans(snapshot, schedule, firm):
        for shift in _shifts(snapshot, whole, max(begin, schedule.status), end):
            key = (whole.crew_id, whole.place_id, shift[0], whole.firm)
            start, finish = max(whole.start, shift[0]), min(whole.finish, shift[1])
            piece = replace(whole, start=start, finish=finish)
            found[key] = _merged(found[key], piece) if key in found else piece
    return tuple(sorted(found.values(), key=_order))


def _shifts(snapshot: Snapshot, whole: Stand, begin: datetime, end: datetime) -> Iterator[Shift]:
    """The shifts of a crew in which it stands there; all of a visit's day outside them."""
    hours = hours_of_crew(snapshot, snapshot.crews[whole.crew_id])
    one_day = whole.why == "visit" and whole.start.date() == whole.finish.date()
    for day in days_between(max(whole.start, begin), min(whole.finish, end)):
        shifts = [s for s in shifts_of(hours, day) if s[0] < whole.finish and s[1] > whole.start]
        for shift in shifts or ([(whole.start, whole.finish)] if one_day else []):
            if min(shift[1], whole.finish) > begin and max(shift[0], whole.start) < end:
                yield shift


def _merged(one: Stand, other: Stand) -> Stand:
    return replace(
        one,
        activity_ids=tuple(dict.fromkeys((*one.activity_ids, *other.activity_ids))),
        start=min(one.start, other.start),
        finish=max(one.finish, other.finish),
        why=min(one.why, other.why, key=lambda why: STRENGTH[why]),
        overhead=one.overhead or other.overhead,
        heavy=one.heavy or other.heavy,
        visit_ids=tuple(dict.fromkeys((*one.visit_ids, *other.visit_ids))),
    )


def _spans(snapshot: Snapshot, schedule: Schedule, firm: bool) -> Iterator[Stand]:
    """From when to when crews stand in places, not yet split in shifts."""
    asked: dict[tuple[str, str], list[Booking]] = {}
    for visit in snapshot.bookings.values():
        if is_open(visit, schedule.status):
            yield from _visit(snapshot, visit)
            for id in visit.activity_ids:
                asked.setdefault((id, visit.crew_id), []).append(visit)
    tasks = [
        a
        for a in snapshot.chain
        if a.kind == "task" and a.finished is None and place_of(snapshot, a)
    ]
    at_work = {(a.detail_id, crew_id) for a in tasks if a.started for crew_id in crews_of(a)}
    for activity in tasks:
        for crew_id in crews_of(activity):
            visits = asked.get((activity.id, crew_id), [])
            if activity.started is not None:
                yield from _under_way(snapshot, schedule, activity, crew_id, visits)
            elif not visits:
                goes_on = (activity.detail_id, crew_id) in at_work
                yield from _forecast(snapshot, schedule, activity, crew_id, goes_on, firm)


def _visit(snapshot: Snapshot, visit: Booking) -> Iterator[Stand]:
    """The places of a visit, one after the other as their work takes."""
    tasks = sorted((snapshot.activities[id] for id in visit.activity_ids), key=lambda a: a.order)
    tasks = [
        a
        for a in tasks
        if a.finished is None and a.ended is None and place_of(snapshot, a)
        if snapshot.details[a.detail_id].ended is None
    ]
    hours = hours_of_crew(snapshot, snapshot.crews[visit.crew_id])
    start = visit.start
    for number, task in enumerate(tasks):
        finish = visit.finish
        elsewhere = {place_of(snapshot, a) for a in tasks[number + 1 :]} - {
            place_of(snapshot, task)
        }
        if elsewhere:
            finish = min(end_after(hours, start, task.remaining or task.work), finish)
        if start < finish:
            whole = _whole(snapshot, task, visit.crew_id, start, finish, "visit")
            yield replace(whole, visit_ids=(visit.id,))
        start = finish if elsewhere else start


def _under_way(
    snapshot: Snapshot,
    schedule: Schedule,
    activity: Activity,
    crew_id: str,
    visits: Iterable[Booking],
) -> Iterator[Stand]:
    """Until its forecast end, but not between two visits; at least as long as this shift."""
    status, started = schedule.status, activity.started or schedule.status
    midnight = datetime.combine(status.date() + timedelta(days=1), time(0))
    finish = schedule[activity.id].early_finish
    if any(visit.start >= midnight for visit in visits):
        finish = min(finish, midnight)
    if finish <= status:
        # nobody has said that it is done
        hours = hours_of_crew(snapshot, snapshot.crews[crew_id])
        shifts = shifts_of(hours, status.date())
        finish = next((end for begin, end in shifts if begin <= status < end), finish)
    if started < finish:
        yield _whole(snapshot, activity, crew_id, started, finish, "under way")


def _forecast(
    snapshot: Snapshot,
    schedule: Schedule,
    activity: Activity,
    crew_id: str,
    goes_on: bool,
    firm: bool,
) -> Iterator[Stand]:
    """Where nobody is asked: as the dates are worked out. Only what is firm, if that is wanted."""
    if firm and not goes_on:
        return
    dates = schedule[activity.id]
    notice = timedelta(minutes=snapshot.crews[crew_id].notice)
    near = goes_on and dates.early_start <= schedule.status + notice
    if (near or not firm) and dates.early_start < dates.early_finish:
        start, finish = dates.early_start, dates.early_finish
        whole = _whole(snapshot, activity, crew_id, start, finish, "forecast")
        yield replace(whole, firm=near)


def _whole(
    snapshot: Snapshot,
    activity: Activity,
    crew_id: str,
    start: datetime,
    finish: datetime,
    why: Why,
) -> Stand:
    return Stand(
        crew_id=crew_id,
        place_id=place_of(snapshot, activity) or "",
        activity_ids=(activity.id,),
        start=start,
        finish=finish,
        why=why,
        firm=True,
        overhead=activity.overhead,
        heavy=activity.heavy,
    )
