"""Warnings of coats: the next one too soon, and too late."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from server.core.changes.plan import ChangeDependency
from server.core.changes.pushing import PutOff
from server.core.coming import later, notice_of
from server.core.drying import Dry, coats_before, dry
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.visits import not_ready_for, wanted
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Booking, Dependency, Snapshot

SOON = "coat too soon"
SOON_TITLE = message("warning.coat_too_soon.title")
LONG = "too long between"
LONG_TITLE = message("warning.too_long_between.title")


@warns(SOON, title=SOON_TITLE, bad="lost work", family="climate")
def coat_too_soon(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The next wet coat is begun, or a crew comes for it, before the coat under it is dry.

    A visit that is too soon by the clock alone is told as that; here, by readings that still
    change, and by the least time that its stuff wants. A coat begun too soon is told till somebody
    has looked at it or gone on over it.
    """
    for work in snapshot.chain:
        if work.kind != "task" or not work.wet:
            continue
        if work.started is None:
            yield from _booked(snapshot, schedule, work)
        elif not _gone_on(snapshot, work):
            under = _under(snapshot, schedule, work, work.started)
            if under is not None and under.at > work.started:
                yield _too_soon(snapshot, schedule, work, under, None)


def _under(snapshot: Snapshot, schedule: Schedule, work: Activity, until: datetime) -> Dry | None:
    """The coat under a coat that takes longest to dry, of those that are done."""
    coats = (c for c in coats_before(snapshot, work) if c.finished is not None)
    found = (dry(snapshot, schedule, coat, until) for coat in coats)
    return max(found, key=lambda under: under.at, default=None)


def _booked(snapshot: Snapshot, schedule: Schedule, work: Activity) -> Iterator[Warning]:
    """A visit on a day before the coat under it can be dry, or soon while its readings change."""
    visits = wanted(snapshot, work.id, schedule.status)
    under = _under(snapshot, schedule, work, schedule.status) if visits else None
    if under is None:
        return
    near = schedule.status + notice_of(snapshot, work) if under.moves else schedule.status
    for visit in visits:
        early = under.at.date() > visit.start.date() or visit.start <= near
        wet = under.at > schedule.status or under.moves
        if early and wet and not_ready_for(snapshot, schedule, visit) is None:
            yield _too_soon(snapshot, schedule, work, under, visit)
            return


def _too_soon(
    snapshot: Snapshot, schedule: Schedule, work: Activity, under: Dry, visit: Booking | None
) -> Warning:
    at = visit.start if visit else work.started or schedule.status
    mends = []
    after = under.at
    if under.moves:
        after = max(after, schedule.status + notice_of(snapshot, work))
    if visit is not None and (move := later(snapshot, schedule, visit, after)):
        crew = snapshot.crews[visit.crew_id].name
        mends.append(Mend(message("warning.move_visit", crew=crew, day=move[0]), (move[1],)))
    ids = (work.id, under.coat.id)
    value = under.moves.value if under.moves else None
    return Warning(
        rule=SOON,
        bad="lost work",
        title=SOON_TITLE,
        sentence=_soon_said(snapshot, work, under, visit, at),
        subject=(work.id,),
        identity=identity(SOON, *ids, visit is None, at, under.at, value),
        at=at,
        detail_id=work.detail_id,
        activity_ids=ids,
        layer_ids=tuple(e.layer_id for e in snapshot.effects_of.get(under.coat.id, ())),
        place_ids=places_of(snapshot, ids),
        crew_id=visit.crew_id if visit else work.crew_id,
        mends=tuple(mends),
    )


def _soon_said(
    snapshot: Snapshot, work: Activity, under: Dry, visit: Booking | None, at: datetime
) -> Message:
    coat, name, moves = under.coat.name, work.name, under.moves
    if moves is None:
        id = "warning.coat_too_soon.comes" if visit else "warning.coat_too_soon.begun"
        return message(id, work=name, at=at, coat=coat, dry=under.at)
    id = "warning.coat_too_soon.comes_moving" if visit else "warning.coat_too_soon.begun_moving"
    return message(
        id, work=name, at=at, coat=coat, value=moves.value, unit=moves.unit, read=moves.at
    )


@warns(LONG, title=LONG_TITLE, bad="lost work", family="climate")
def too_long_between(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """What has to come within some time of something comes later: by the forecast, or in fact.

    While that something is still to come, the schedule holds it back instead. Once it is done in
    fact it is told till somebody has looked at it or gone on over it.
    """
    late = {(d.before, d.after, d.type) for d in schedule.too_long}
    for kept in snapshot.dependencies.values():
        if kept.most is None or not {kept.before_id, kept.after_id} <= schedule.keys():
            continue
        before, after = snapshot.activities[kept.before_id], snapshot.activities[kept.after_id]
        begins, comes = _ends(schedule, kept)
        in_fact = after.finished is not None and comes - begins > timedelta(minutes=kept.most)
        if (kept.before_id, kept.after_id, kept.type) in late or (
            in_fact and not _gone_on(snapshot, after)
        ):
            yield _too_long(snapshot, schedule, kept, before, after)


def _ends(schedule: Schedule, kept: Dependency) -> tuple[datetime, datetime]:
    """The two moments that the time between counts from and to."""
    first, last = schedule[kept.before_id], schedule[kept.after_id]
    return (
        first.early_start if kept.type[0] == "S" else first.early_finish,
        last.early_finish if kept.type[1] == "F" else last.early_start,
    )


def _too_long(
    snapshot: Snapshot, schedule: Schedule, kept: Dependency, before: Activity, after: Activity
) -> Warning:
    begins, comes = _ends(schedule, kept)
    begun = before.finished if kept.type[0] == "F" else before.started
    done = after.finished if kept.type[1] == "F" else after.started
    ids = (after.id, before.id)
    return Warning(
        rule=LONG,
        bad="lost work",
        title=LONG_TITLE,
        sentence=message(
            "warning.too_long_between.begun" if done else "warning.too_long_between.comes",
            work=after.name,
            at=comes,
            before=before.name,
            since=begins,
            most=kept.most,
        ),
        subject=(kept.id,),
        # a forecast slides with the clock and is no fact
        identity=identity(LONG, kept.id, kept.most, begun, done),
        at=begins + timedelta(minutes=kept.most or 0),
        detail_id=after.detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        crew_id=after.crew_id,
        mends=tuple(_within(kept, before, after)),
    )


def _within(kept: Dependency, before: Activity, after: Activity) -> Iterator[Mend]:
    """Not put off any more, where that is what holds it; or it need not come within that time."""
    if after.not_before is not None and after.started is None:
        label = message("warning.not_put_off", work=after.name)
        yield Mend(label, (PutOff(activity_id=after.id, until=None),))
    label = message(
        "warning.need_not_be_within", work=after.name, before=before.name, most=kept.most
    )
    yield Mend(
        label,
        (
            ChangeDependency(
                dependency_id=kept.id,
                type=kept.type,
                lag=kept.lag,
                lag_on=kept.lag_on,
                most=None,
            ),
        ),
    )


def _gone_on(snapshot: Snapshot, work: Activity) -> bool:
    """Whether something behind a task has begun, or a check behind it was released."""
    open_ids, seen = [work.id], {work.id}
    while open_ids:
        for dependency in snapshot.after.get(open_ids.pop(), ()):
            after = snapshot.activities[dependency.after_id]
            if after.kind in ("task", "hold") and (after.started or after.finished):
                return True
            if after.kind == "wait" and after.id not in seen:
                seen.add(after.id)
                open_ids.append(after.id)
    return False
