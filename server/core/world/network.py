"""A project as a network of the chain core: what each kind means for dates is written here."""

from collections.abc import Iterator
from datetime import datetime
from functools import lru_cache
from typing import Literal, cast

from server.core import schedule
from server.core.schedule import Calendar, Kind, Network, Schedule, compute
from server.core.world.chain import Activity, Dependency
from server.core.world.hours import calendar_id_of, calendar_of
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
    task before the check. An invited look stops nobody: nothing is bound to come after it. A
    delivery takes its lead time on its supplier's calendar. What has ended is not in the network.
    """
    ids = {a.id for a in snapshot.chain}
    witnesses = {h.activity_id for h in snapshot.holds.values() if h.witness}
    return Network(
        activities=[_activity(snapshot, a) for a in snapshot.chain],
        dependencies=[
            _dependency(d)
            for d in snapshot.dependencies.values()
            if d.before_id in ids and d.after_id in ids and d.before_id not in witnesses
        ],
        calendars=dict(_calendars(snapshot)),
        start=snapshot.project.start,
        status=status,
    )


def _activity(snapshot: Snapshot, activity: Activity) -> schedule.Activity:
    hold = snapshot.hold_of.get(activity.id)
    crews = (activity.crew_id, *activity.with_crew_ids)
    return schedule.Activity(
        id=activity.id,
        work=activity.work,
        calendar=_key(snapshot, activity),
        kind=Kind(activity.kind),
        crews={crew: 1 for crew in crews if crew},
        not_before=activity.not_before,
        finish_by=activity.finish_by,
        one_day=activity.one_day,
        notice=hold.notice if hold else 0,
        called=hold.called if hold else None,
        ordered=activity.ordered,
        promised=activity.promised,
        started=activity.started,
        finished=activity.finished,
        remaining=activity.remaining,
        low=activity.low,
        high=activity.high,
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
    own = calendar_id_of(snapshot, activity)
    others = (snapshot.crews[c].calendar_id for c in activity.with_crew_ids)
    return "+".join(dict.fromkeys((own, *(c for c in others if c))))


def _calendars(snapshot: Snapshot) -> Iterator[tuple[str, Calendar]]:
    yield ALWAYS, Calendar.always()
    for key in dict.fromkeys(_key(snapshot, a) for a in snapshot.chain if a.kind != "wait"):
        together: Calendar | None = None
        for id in key.split("+"):
            calendar = _calendar(snapshot.calendars[id])
            together = calendar if together is None else Calendar.both(together, calendar)
        if together is not None:
            yield key, together
