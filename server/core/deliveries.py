"""Deliveries: what they are for, what is brought for some work, and when they can be here."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from server.core.next import waits_for
from server.core.promises import promised
from server.core.schedule import Schedule
from server.core.visits import is_open, still_to_do
from server.core.world import Activity, Booking, Snapshot


def brought_for(snapshot: Snapshot, activity_ids: Iterable[str]) -> tuple[Activity, ...]:
    """The deliveries for these: what comes before them with no other task in between."""
    found: dict[str, Activity] = {}
    seen = set(activity_ids)
    open_ids = list(seen)
    for id in open_ids:
        for dependency in snapshot.before.get(id, ()):
            before = snapshot.activities[dependency.before_id]
            if before.id in seen or before.ended is not None or before.kind == "task":
                continue
            seen.add(before.id)
            open_ids.append(before.id)
            if before.kind == "delivery":
                found[before.id] = before
    return tuple(sorted(found.values(), key=lambda a: a.order))


def needed_for(snapshot: Snapshot, delivery: Activity) -> tuple[Activity, ...]:
    """The tasks that a delivery is for: what comes after it with no other task in between."""
    found: dict[str, Activity] = {}
    seen = {delivery.id}
    open_ids = [delivery.id]
    for id in open_ids:
        for dependency in snapshot.after.get(id, ()):
            after = snapshot.activities[dependency.after_id]
            if after.id in seen or after.ended is not None:
                continue
            seen.add(after.id)
            if after.kind == "task":
                found[after.id] = after
            else:
                open_ids.append(after.id)
    return tuple(sorted(found.values(), key=lambda a: a.order))


def review_left(delivery: Activity) -> timedelta:
    """What drawing it up, review and approval take before it can be ordered; none once it is."""
    over = delivery.approved or delivery.ordered or delivery.finished
    return timedelta(0) if over else timedelta(minutes=delivery.review)


def order_by(schedule: Schedule, delivery: Activity) -> datetime:
    """The last day on which its order can be begun without making the house later."""
    return schedule[delivery.id].late_start - review_left(delivery)


def here_at(schedule: Schedule, delivery: Activity) -> datetime:
    """The forecast of its arrival, its review counted."""
    return schedule[delivery.id].early_finish + review_left(delivery)


def missing_for(
    snapshot: Snapshot, schedule: Schedule, visit: Booking
) -> tuple[tuple[Activity, ...], tuple[Activity, ...]]:
    """What is brought for an open visit within its crew's notice and is not here; not counted.

    Both are empty for any other visit. Within its notice a crew has loaded its truck: what is
    missing has to be found today.
    """
    notice = timedelta(minutes=snapshot.crews[visit.crew_id].notice)
    if not is_open(visit, schedule.status) or visit.start - schedule.status > notice:
        return (), ()
    brought = brought_for(snapshot, (a.id for a in still_to_do(snapshot, visit)))
    missing = tuple(a for a in brought if a.finished is None)
    return missing, tuple(a for a in brought if a.finished and a.counted is None)


def comes_with_another(snapshot: Snapshot, delivery: Activity) -> bool:
    """Whether it is the way here of something that another delivery before it has ordered."""
    return bool(brought_for(snapshot, (delivery.id,)))


@dataclass(frozen=True)
class TooLate:
    """By when a delivery would have to be here, and for what: None where no task needs it.

    `promised` is the day promised for that, and `starts` when it can begin, if it is late by that.
    """

    needed: datetime
    work: Activity | None
    promised: datetime | None = None
    starts: datetime | None = None


def too_late(snapshot: Snapshot, schedule: Schedule, delivery: Activity) -> TooLate | None:
    """By when it had to be here, if by the forecast it comes later; None where it does not.

    That is when a fixed date behind it leaves no time, or the work that needs it was promised for
    an earlier day and waits for nothing else. Only of what is ordered or could be: else what stands
    before it is late. Of deliveries one after the other, the first that is not here.
    """
    if delivery.finished is not None:
        return None
    if delivery.ordered is None and not schedule[delivery.id].ready:
        return None
    needs = [a for a in needed_for(snapshot, delivery) if a.started is None and a.finished is None]
    arrives, dates = here_at(schedule, delivery), schedule[delivery.id]
    review = bool(review_left(delivery))
    if dates.total_float < 0 or (review and arrives > dates.late_finish):
        return TooLate(dates.late_finish, needs[0] if needs else None)
    for work in needs:
        one = promised(snapshot, work.detail_id).get(work.id)
        starts = schedule[work.id].early_start + review_left(delivery)
        if one is None or starts.date() <= one.start.date():
            continue
        if waits_for(snapshot, schedule, work) == delivery:
            return TooLate(arrives - (starts - one.start), work, one.start, starts)
    return None
