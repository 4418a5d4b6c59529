"""What mends finish wood that comes into a wet house."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from server.core.changes import Command
from server.core.changes.bookings import MoveVisit
from server.core.changes.inputs import ids_after
from server.core.changes.plan import AddDependency
from server.core.changes.pushing import PutOff
from server.core.coming import later, notice_of
from server.core.drying import Dry
from server.core.finish_wood import Against, Wood, meter_checks
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.states import ahead, is_released
from server.core.visits import first_day
from server.core.warnings.base import Mend
from server.core.world import Snapshot
from server.core.world.hours import first_hour

MINUTE = timedelta(minutes=1)

Found = tuple[Wood, Against]


def last_wet(found: Against) -> Dry:
    """Of the wet work that speaks against wood, what dries last."""
    return max(found.wet, key=lambda one: one.at)


def mends(snapshot: Snapshot, schedule: Schedule, together: Sequence[Found]) -> Iterator[Mend]:
    """The wood after the last that has to dry, or not before it is, or not within its notice.

    Or the meter check, where that is all. Wood that is in cannot be pressed out again, and an
    arrow tells no supplier who has promised a day.
    """
    coming = [(wood, found) for wood, found in together if not wood.is_in]
    names = tuple(wood.work.name for wood, _ in coming)
    moved = [c for wood, found in coming for c in _moved(snapshot, schedule, wood, found)]
    promised = any(wood.work.ordered or wood.work.promised for wood, _ in coming)
    if coming and coming[0][1].wet and not promised:
        label = message("warning.wood_after", wood=names, coat=last_wet(coming[0][1]).coat.name)
        yield Mend(label, (*_arrows(snapshot, schedule, coming), *moved))
    if coming:
        days = [_day(snapshot, schedule, wood, found) for wood, found in coming]
        label = message("warning.wood_not_before", wood=names, day=max(days))
        put_off: list[Command] = [
            PutOff(activity_id=wood.work.id, until=day)
            for (wood, _), day in zip(coming, days, strict=True)
        ]
        yield Mend(label, (*put_off, *moved))
    for wood, found in together:
        if found.unmetered and not found.wet and not found.air:
            yield from _check(snapshot, wood)


def _check(snapshot: Snapshot, wood: Wood) -> Iterator[Mend]:
    """The way to the first meter check in that air that is not released."""
    for hold in meter_checks(snapshot, wood.place_id):
        if not is_released(snapshot, hold):
            yield Mend(message("warning.open_check"), goto_hold_id=hold.id)
            return


def _arrows(
    snapshot: Snapshot, schedule: Schedule, coming: Sequence[Found]
) -> Iterator[AddDependency]:
    """The wood after what dries last: the wait for it, else as long after it as it takes."""
    for wood, found in coming:
        last = last_wet(found)
        before = last.wait or last.coat
        dries = last.at - schedule[last.coat.id].early_finish
        if before.id not in ahead(snapshot, wood.work.id):
            yield AddDependency(
                id=next(ids_after(wood.work.id, snapshot.dependencies)),
                before_id=before.id,
                after_id=wood.work.id,
                lag=0 if last.wait else dries // MINUTE,
            )


def _until(snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against) -> datetime:
    """When nothing speaks against it any more: all is dry, and it is not near."""
    until = schedule.status
    if found.unmetered or found.air:
        until += notice_of(snapshot, wood.work)
    return max(until, last_wet(found).at) if found.wet else until


def _day(snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against) -> datetime:
    """A day for it after that; a delivery may come in the course of one."""
    until = _until(snapshot, schedule, wood, found)
    if wood.work.kind == "delivery":
        return first_hour(snapshot, wood.work, until + MINUTE)
    return first_day(snapshot, wood.work, until + MINUTE)


def _moved(
    snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against
) -> Iterator[MoveVisit]:
    """Its visits that come too early, asked for after that."""
    until = _until(snapshot, schedule, wood, found)
    for visit in wood.visits:
        move = later(snapshot, schedule, visit, until) if visit.start <= until else None
        if move is not None:
            yield move[1]
