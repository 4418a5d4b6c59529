"""Who goes next: what can go now, what can go soon, and what everything else waits for."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from server.core.schedule import Schedule
from server.core.states import hold_state, holding, left_out, open_before
from server.core.visits import visit_for
from server.core.world import Activity, Booking, Snapshot

Standing = Literal["under way", "ready", "soon", "waits"]
RANK: dict[Standing, int] = {"under way": 0, "ready": 1, "soon": 2, "waits": 3}


@dataclass(frozen=True)
class Going:
    """One activity and how it stands.

    `when` is the visit's time, else the forecast start. `spare` is its total float in working
    minutes. `waits_for_id` is the one activity that it waits for, and `person_id` or `crew_id`
    whoever can move that (or, if nothing is in its way, whoever does this one); both None where
    only time can. `sets_finish`: later here is later for the house.
    """

    activity: Activity
    standing: Standing
    when: datetime
    late_start: datetime
    sets_finish: bool
    spare: int
    booking: Booking | None
    waits_for_id: str | None
    crew_id: str | None
    person_id: str | None


def who_goes_next(
    snapshot: Snapshot,
    schedule: Schedule,
    status: datetime,
    *,
    detail_id: str | None = None,
    crew_id: str | None = None,
) -> tuple[Going, ...]:
    """What is under way or ready, by earliest late start; then what will be ready within its
    crew's notice; then what sets the finish, with the one thing it waits for.

    Of a detail or a crew alone everything that waits is told, not only what sets the finish, and
    the parts that a check has left out. Waits and deliveries on their way are nobody's to do and
    are left out.
    """
    everything = detail_id is not None or crew_id is not None
    found = [
        _going(snapshot, schedule, activity, status)
        for activity in _chosen(snapshot, detail_id, crew_id)
        if _to_do(snapshot, schedule, activity, everything)
    ]
    shown = [g for g in found if everything or g.standing != "waits" or g.sets_finish]
    return tuple(sorted(shown, key=lambda g: (RANK[g.standing], _order(g), g.activity.order)))


def mover_of(
    snapshot: Snapshot, activity: Activity, schedule: Schedule | None = None
) -> tuple[str | None, str | None]:
    """The crew or the person who can move an activity on: (crew id, person id).

    A check is its crew's until it is marked, then its releaser's. Nobody moves a wait.
    """
    hold = snapshot.hold_of.get(activity.id)
    if hold is not None:
        if hold_state(snapshot, hold, schedule) == "marked":
            return None, hold.releases_id or _super(snapshot)
        return hold.marks_crew_id, None if hold.marks_crew_id else _super(snapshot)
    if activity.kind == "wait":
        return None, None
    if activity.kind == "decision":
        return None, activity.person_id or _super(snapshot)
    if activity.kind == "task" and activity.crew_id:
        return activity.crew_id, None
    return None, _super(snapshot)


def waits_for(snapshot: Snapshot, schedule: Schedule, activity: Activity) -> Activity | None:
    """The one thing that an activity waits for; None if nothing is in its way but its own date.

    That is the first on its path that is not done: who moves it moves all behind it. What does not
    set its date may still hold it: then the nearest such check, or the first that is open.
    """
    for id in schedule.path(activity.id):
        if id != activity.id and id not in schedule.done:
            return snapshot.activities[id]
    if schedule[activity.id].ready:
        return None
    if held := holding(snapshot, activity.id):
        return snapshot.activities[held[-1].activity_id]
    return next(iter(open_before(snapshot, activity.id, schedule)), None)


def _chosen(snapshot: Snapshot, detail_id: str | None, crew_id: str | None) -> Iterable[Activity]:
    chain = snapshot.chain_of(detail_id) if detail_id is not None else snapshot.chain
    if crew_id is None:
        return chain
    return [
        a
        for a in chain
        if crew_id in (a.crew_id, *a.with_crew_ids)
        or ((h := snapshot.hold_of.get(a.id)) is not None and h.marks_crew_id == crew_id)
    ]


def _to_do(snapshot: Snapshot, schedule: Schedule, activity: Activity, everything: bool) -> bool:
    if activity.kind == "wait" or activity.ordered:
        return False
    hold = snapshot.hold_of.get(activity.id)
    rest = everything and hold is not None and bool(left_out(snapshot, hold))
    return rest or activity.id not in schedule.done


def _going(snapshot: Snapshot, schedule: Schedule, activity: Activity, status: datetime) -> Going:
    dates = schedule[activity.id]
    booking = visit_for(snapshot, activity.id)
    standing = _standing(snapshot, schedule, activity, status)
    blocker = waits_for(snapshot, schedule, activity) if standing in ("waits", "soon") else None
    crew_id, person_id = mover_of(snapshot, blocker or activity, schedule)
    coming = booking is not None and booking.state != "can't come" and booking.finish > status
    return Going(
        activity=activity,
        standing=standing,
        when=activity.started or (booking.start if booking and coming else dates.early_start),
        late_start=dates.late_start,
        sets_finish=activity.id in schedule.critical_path,
        spare=dates.total_float,
        booking=booking,
        waits_for_id=blocker.id if blocker else None,
        crew_id=crew_id,
        person_id=person_id,
    )


def _standing(
    snapshot: Snapshot, schedule: Schedule, activity: Activity, status: datetime
) -> Standing:
    dates = schedule[activity.id]
    if activity.kind == "hold" and activity.finished is not None:
        return "ready"
    if activity.started is not None:
        return "under way"
    if dates.ready:
        return "ready"
    # of crews that work together, the one that wants to know soonest
    notices = [snapshot.crews[id].notice for id in activity.crew_ids]
    soon = notices and dates.early_start - status <= timedelta(minutes=max(notices))
    return "soon" if soon else "waits"


def _order(going: Going) -> datetime:
    return going.when if going.standing == "waits" else going.late_start


def _super(snapshot: Snapshot) -> str | None:
    found = (p.id for p in snapshot.people.values() if p.role == "super" and p.ended is None)
    return next(found, None)
