"""A project as a network of the chain core: what each kind means for dates is written here."""

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal, cast

from server.core import schedule
from server.core.schedule import Calendar, Kind, Network, Schedule, compute
from server.core.world.chain import Activity, Dependency
from server.core.world.holds import HoldPoint
from server.core.world.hours import ALWAYS, joint_hours, joint_key, remains
from server.core.world.snapshot import Snapshot

BOUND = "dependencies"


def forecast(snapshot: Snapshot, status: datetime) -> Schedule:
    """The dates of every activity of the project, as of the status date.

    Kept with the snapshot for the status asked for last, and taken along by a snapshot that is made
    from it with all that is dated left alone.
    """
    kept = snapshot.kept_forecast
    found: Schedule | None = next((one for one in kept if one.status == status), None)
    if found is None:
        found = compute(network_of(snapshot, status))
        kept[:] = [found]
    return found


def forecast_of(snapshot: Snapshot, status: datetime, activity_id: str) -> Schedule:
    """The same, only of an activity and what its early dates depend on.

    Late dates and floats are those of that part alone. Empty if it is in no chain.
    """
    found, open_ids = {activity_id}, [activity_id]
    while open_ids:
        id = open_ids.pop()
        ahead = [d.before_id for d in snapshot.before.get(id, ())]
        held_by = [d.after_id for d in snapshot.after.get(id, ()) if d.most is not None]
        new = {*ahead, *held_by} - found
        found |= new
        open_ids += new
    return compute(network_of(snapshot, status, found))


def early_if_done(schedule: Schedule, done: Collection[str], wanted: Collection[str]) -> Schedule:
    """The early dates of the wanted activities, as if others were done at the status.

    Only what they depend on is computed: late dates and floats are those of that part alone.
    """
    part, status = schedule.part(wanted), schedule.status
    activities = [
        replace(a, started=status, finished=status, remaining=None) if a.id in done else a
        for a in part.activities
    ]
    return compute(replace(part, activities=activities))


def network_of(
    snapshot: Snapshot, status: datetime, only: Collection[str] | None = None
) -> Network:
    """The chain of all details of a project, as one network; or `only` these activities of it.

    A wait runs by the clock. A check's notice bounds its look; it is finished by the release, also
    one that leaves parts out: they are put right beside what follows. A rejection has left a rework
    task before the check. An invited look stops nobody: what would come after it comes after what
    it looks at. A delivery takes its lead time on its supplier's calendar; it is here when it has
    arrived, counted or not. What has ended is not in the network. What was recorded since the
    status was floored counts as of the status.
    """
    steps, dependencies = _steps(snapshot), _dependencies(snapshot)
    if only is not None:
        steps = [step for step in steps if step.activity.id in only]
        dependencies = tuple(d for d in dependencies if d.before in only and d.after in only)
    keys = dict.fromkeys(step.made.calendar for step in steps)
    return Network(
        activities=[
            _as_of(snapshot, step, status)
            if step.runs_down or (step.last is not None and step.last > status)
            else step.made
            for step in steps
        ],
        dependencies=dependencies,
        calendars={ALWAYS: Calendar.always(), **{key: joint_hours(snapshot, key) for key in keys}},
        start=snapshot.project.start,
        status=status,
    )


@dataclass(frozen=True, slots=True)
class _Step:
    """What was made of an activity and its hold point, with all that has happened to it.

    It is another at a status before the `last` of that, and while what remains of it runs down.
    """

    activity: Activity
    hold: HoldPoint | None
    made: schedule.Activity
    last: datetime | None
    runs_down: bool


def _steps(snapshot: Snapshot) -> list[_Step]:
    """The activities in a chain, each made once for each version of its row."""
    steps, kept, hold_of = list[_Step](), snapshot.drawn_up, snapshot.hold_of
    for activity in snapshot.chain:
        hold = hold_of.get(activity.id)
        step: _Step | None = kept.get(activity.id)
        if step is None or step.activity is not activity or step.hold is not hold:
            step = kept[activity.id] = _step(snapshot, activity, hold)
        steps.append(step)
    return steps


def _step(snapshot: Snapshot, activity: Activity, hold: HoldPoint | None) -> _Step:
    facts = (activity.ordered, activity.started, activity.finished)
    begun = activity.started is not None and activity.finished is None
    return _Step(
        activity,
        hold,
        _activity(snapshot, activity, hold),
        last=max((fact for fact in facts if fact), default=None),
        runs_down=begun and activity.remaining is not None,
    )


def _activity(snapshot: Snapshot, activity: Activity, hold: HoldPoint | None) -> schedule.Activity:
    """An activity with all that has happened to it."""
    crews = (activity.crew_id, *activity.with_crew_ids)
    key = joint_key(snapshot, activity)
    hours = joint_hours(snapshot, key)
    fits = activity.work <= hours.longest_weekday or hours.long_days(activity.work)
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
        ordered=activity.ordered,
        promised=activity.promised,
        started=activity.started or activity.finished,
        finished=activity.finished,
        low=activity.low,
        high=activity.high,
    )


def _as_of(snapshot: Snapshot, step: _Step, status: datetime) -> schedule.Activity:
    """The same at a status: what was recorded later counts as of then, what remains runs down."""
    activity = step.activity
    ordered, started, finished = (
        moment and min(moment, status)
        for moment in (activity.ordered, activity.started, activity.finished)
    )
    return replace(
        step.made,
        ordered=ordered,
        started=started or finished,
        finished=finished,
        remaining=remains(snapshot, activity, status) if started and not finished else None,
    )


@dataclass(frozen=True, slots=True)
class _Bound:
    """The dependencies made for a network, and what they were made of."""

    of: tuple[object, ...]
    ids: tuple[str, ...]
    made: tuple[schedule.Dependency, ...]


def _dependencies(snapshot: Snapshot) -> tuple[schedule.Dependency, ...]:
    """The dependencies that bind, made once for as long as they and the chain's order stand."""
    of, ids = (snapshot.dependencies, snapshot.holds), tuple(a.id for a in snapshot.chain)
    kept: _Bound | None = snapshot.drawn_up.get(BOUND)
    if kept is None or kept.ids != ids or any(a is not b for a, b in zip(kept.of, of, strict=True)):
        made = tuple(_dependency(d) for d in _binding(snapshot))
        kept = snapshot.drawn_up[BOUND] = _Bound(of, ids, made)
    return kept.made


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
