"""A project as a network of the chain core: what each kind means for dates is written here."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from functools import lru_cache
from typing import Literal, cast

from server.core import schedule
from server.core.schedule import Calendar, Kind, Network, Refused, Schedule, compute
from server.core.world.chain import Activity, Dependency
from server.core.world.hours import calendar_id_of, calendar_of, remains
from server.core.world.snapshot import Snapshot

ALWAYS = "always"

_calendar = lru_cache(maxsize=256)(calendar_of)


def forecast(snapshot: Snapshot, status: datetime) -> Schedule:
    """The dates of every activity of the project, as of the status date."""
    return compute(network_of(snapshot, status))


def network_of(snapshot: Snapshot, status: datetime) -> Network:
    """The chain of all details of a project, as one network.

    A wait runs by the clock. A check's notice bounds its look; it is finished by the release, also
    one that leaves parts out: they are put right beside what follows. A rejection has left a rework
    task before the check. An invited look stops nobody: what would come after it comes after what
    it looks at. A delivery takes its lead time on its supplier's calendar; it is here when it has
    arrived, counted or not. What has ended is not in the network. What was recorded since the
    status was floored counts as of the status.
    """
    calendars = dict(_calendars(snapshot))
    return Network(
        activities=[_activity(snapshot, a, calendars, status) for a in snapshot.chain],
        dependencies=[_dependency(d) for d in _binding(snapshot)],
        calendars=calendars,
        start=snapshot.project.start,
        status=status,
    )


def _activity(
    snapshot: Snapshot, activity: Activity, calendars: dict[str, Calendar], status: datetime
) -> schedule.Activity:
    hold = snapshot.hold_of.get(activity.id)
    crews = (activity.crew_id, *activity.with_crew_ids)
    key = _key(snapshot, activity)
    fits = activity.work <= calendars[key].longest_weekday or calendars[key].long_days(
        activity.work
    )
    ordered, started, finished = (
        moment and min(moment, status)
        for moment in (activity.ordered, activity.started, activity.finished)
    )
    return schedule.Activity(
        id=activity.id,
        work=activity.work,
        calendar=key,
        kind=Kind(activity.kind),
        crews={crew: 1 for crew in crews if crew},
        not_before=activity.not_before,
        finish_by=activity.finish_by,
        # a crew that has come to work shorter days since does it in more than one go
        one_day=activity.one_day and bool(fits),
        notice=hold.notice if hold else 0,
        called=hold.called if hold else None,
        ordered=ordered,
        promised=activity.promised,
        started=started or finished,
        finished=finished,
        remaining=remains(snapshot, activity, status) if started and not finished else None,
        low=activity.low,
        high=activity.high,
    )


def _binding(snapshot: Snapshot) -> tuple[Dependency, ...]:
    """The dependencies that bind, with those over an invited look bridged."""
    ids = {a.id for a in snapshot.chain}
    kept = {
        d.id: d for d in snapshot.dependencies.values() if d.before_id in ids and d.after_id in ids
    }
    witness = {h.activity_id for h in snapshot.holds.values() if h.witness}
    for id in (a.id for a in snapshot.chain if a.id in witness):
        out = [d for d in kept.values() if d.before_id == id]
        to = [d for d in kept.values() if d.after_id == id] if out else []
        for second in out:
            del kept[second.id]
            for first in to:
                bridge = _bridge(first, second)
                kept[bridge.id] = bridge
    return tuple(kept.values())


def _bridge(first: Dependency, second: Dependency) -> Dependency:
    """From the end the first counts from to the end the second counts to, with both waits."""
    alike = first.lag_on == second.lag_on or not first.lag or not second.lag
    on = second if second.lag else first
    return replace(
        second,
        id=f"{first.id} {second.id}",
        before_id=first.before_id,
        type=first.type[0] + second.type[1],
        lag=first.lag + second.lag if alike else second.lag,
        lag_on=on.lag_on,
        most=None,
    )


def _dependency(kept: Dependency) -> schedule.Dependency:
    return schedule.Dependency(
        before=kept.before_id,
        after=kept.after_id,
        type=cast(Literal["FS", "SS", "FF", "SF"], kept.type),
        lag=kept.lag,
        lag_on=cast(Literal["clock", "work"], kept.lag_on),
        most=kept.most,
    )


def _key(snapshot: Snapshot, activity: Activity) -> str:
    """The calendar's key; joint work goes only where all its crews work."""
    if activity.kind == "wait":
        return ALWAYS
    first = calendar_id_of(snapshot, activity)
    if activity.calendar_id:
        return first
    site = snapshot.project.calendar_id
    others = (snapshot.crews[id].calendar_id or site for id in activity.with_crew_ids)
    return "+".join(dict.fromkeys((first, *others)))


def _calendars(snapshot: Snapshot) -> Iterator[tuple[str, Calendar]]:
    yield ALWAYS, Calendar.always()
    for key in dict.fromkeys(_key(snapshot, a) for a in snapshot.chain if a.kind != "wait"):
        together: Calendar | None = None
        for id in key.split("+"):
            calendar = _calendar(snapshot.calendars[id])
            together = calendar if together is None else _both(together, calendar)
        if together is not None:
            yield key, together


def _both(a: Calendar, b: Calendar) -> Calendar:
    """Where both work; crews whose hours have come apart since go by those named first."""
    try:
        return Calendar.both(a, b)
    except Refused:
        return a
