"""Warnings of cover: what is about to be hidden, and what was hidden unseen."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from server.core.next import visit_for
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.states import hold_state, is_released, left_out
from server.core.warnings.base import Bad, Mend, Warning, identity, warns
from server.core.world import Activity, Agreed, HoldPoint, Snapshot
from server.core.world.network import forecast

LOOK = timedelta(minutes=30)
"""What a look takes where the check does not say. Common practice."""
REPAIR = timedelta(hours=2)
"""What putting something small right takes. Common practice."""


@dataclass(frozen=True)
class LastLook:
    """The last moment before a layer that a check looks at is covered, and by what work."""

    at: datetime
    work: Activity


def last_look(snapshot: Snapshot, schedule: Schedule, hold: HoldPoint) -> LastLook | None:
    """When what a check looks at is covered: by a visit, by promise, or by forecast as if this
    check were released now; behind an open check the forecast alone would slide for ever.
    """
    status = schedule.status
    activity = replace(snapshot.activities[hold.activity_id], started=status, finished=status)
    released = forecast(snapshot.put(activity), status)
    looks = [
        LastLook(min(_moments(snapshot, released, work)), work)
        for work in covering(snapshot, hold)
        if work.finished is None and work.started is None
    ]
    return min(looks, key=lambda look: look.at, default=None)


def covering(snapshot: Snapshot, hold: HoldPoint) -> tuple[Activity, ...]:
    """The tasks that cover a layer which the check looks at."""
    return tuple(
        work
        for layer_id in hold.layer_ids
        for effect in snapshot.effects_on.get(layer_id, ())
        if effect.verb == "covers"
        and (work := snapshot.activities[effect.activity_id]).ended is None
    )


@warns(
    "about to be hidden",
    title=message("warning.about_to_be_hidden.title"),
    bad="lost work",
    family="cover",
)
def about_to_be_hidden(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Too little time is left before a layer is covered that nobody has said OK to."""
    status = schedule.status
    for hold in _in_order(snapshot):
        state = hold_state(snapshot, hold)
        if hold.witness or state in ("released", "not yet"):
            continue
        look = last_look(snapshot, schedule, hold)
        if look is None:
            continue
        activity = snapshot.activities[hold.activity_id]
        needed = timedelta(minutes=hold.notice) + max(timedelta(minutes=activity.work), LOOK)
        bad: Bad = "lost work"
        if status + needed + REPAIR < look.at and state != "marked":
            bad = "watch"
            if status + 2 * (needed + REPAIR) < look.at:
                continue
        if state == "marked" and visit_for(snapshot, look.work.id) is None:
            bad = "watch"
        label = message("warning.about_to_be_hidden.open")
        yield Warning(
            rule="about to be hidden",
            bad=bad,
            title=message("warning.about_to_be_hidden.title"),
            sentence=message(
                "warning.about_to_be_hidden.said",
                work=look.work.name,
                at=look.at,
                check=activity.name,
                marked=state == "marked",
            ),
            identity=identity("about to be hidden", hold.id, state, look.work.id, look.at),
            detail_id=activity.detail_id,
            activity_ids=(activity.id, look.work.id),
            layer_ids=hold.layer_ids,
            hold_id=hold.id,
            person_id=hold.releases_id,
            mends=(Mend(label, goto_hold_id=hold.id),),
        )


@warns(
    "hidden open",
    title=message("warning.hidden_open.title"),
    bad="lost work",
    family="cover",
)
def hidden_open(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Covered in fact while a check on it was not released, or had left that part out."""
    for hold in _in_order(snapshot):
        if hold.witness:
            continue
        missing = frozenset(left_out(snapshot, hold))
        if is_released(snapshot, hold) and not missing:
            continue
        activity = snapshot.activities[hold.activity_id]
        for work in covering(snapshot, hold):
            if work.finished is None or _opened_since(snapshot, hold, work.finished):
                continue
            if missing and not _touches(snapshot, work, hold, missing):
                continue
            yield Warning(
                rule="hidden open",
                bad="lost work",
                title=message("warning.hidden_open.title"),
                sentence=message(
                    "warning.hidden_open.said",
                    work=work.name,
                    at=work.finished,
                    check=activity.name,
                ),
                identity=identity("hidden open", hold.id, work.id, work.finished),
                detail_id=activity.detail_id,
                activity_ids=(work.id, activity.id),
                layer_ids=hold.layer_ids,
                hold_id=hold.id,
                person_id=hold.releases_id,
            )


def _moments(snapshot: Snapshot, released: Schedule, work: Activity) -> Iterator[datetime]:
    """When a task may cover: its visit, its promised start, its forecast."""
    booking = visit_for(snapshot, work.id)
    if booking is not None and booking.state != "can't come":
        yield booking.start
    promised = [a for a in snapshot.agreed.values() if a.activity_id == work.id]
    newest: Agreed | None = max(promised, key=lambda a: a.round, default=None)
    if newest is not None and booking is None:
        yield max(newest.start, released[work.id].early_start)
    yield released[work.id].early_start


def _opened_since(snapshot: Snapshot, hold: HoldPoint, at: datetime) -> bool:
    return any(
        effect.verb == "opens"
        and (done := snapshot.activities[effect.activity_id].finished) is not None
        and done >= at
        for layer_id in hold.layer_ids
        for effect in snapshot.effects_on.get(layer_id, ())
    )


def _touches(snapshot: Snapshot, work: Activity, hold: HoldPoint, parts: frozenset[int]) -> bool:
    return any(
        effect.verb == "covers"
        and effect.layer_id in hold.layer_ids
        and (not effect.parts or parts & set(effect.parts))
        for effect in snapshot.effects_of.get(work.id, ())
    )


def _in_order(snapshot: Snapshot) -> list[HoldPoint]:
    return [h for a in snapshot.chain if (h := snapshot.hold_of.get(a.id)) is not None]
