"""Warnings of the last moment: for reach, for a long piece, for a circuit, an inspector, shores."""

from collections.abc import Iterable, Iterator

from server.core.changes.inputs import ids_after
from server.core.changes.plan import AddDependency
from server.core.cover import reach
from server.core.cover.last import Last, Why, lasts, unpowered
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.warnings.order import look_at
from server.core.world import Snapshot

REACH, WAY_IN, POWER = "last reach passed", "last way in passed", "last power-up passed"
ROUGH, SHORES = "insulated before the rough inspection", "shores still in"
REACH_TITLE = message("warning.last_reach.title")
WAY_IN_TITLE = message("warning.last_way_in.title")
POWER_TITLE = message("warning.last_power.title")
ROUGH_TITLE = message("warning.rough.title")
SHORES_TITLE = message("warning.shores.title")
SAID: dict[Why, str] = {
    "reach": "warning.last_reach.said",
    "way in": "warning.last_way_in.said",
    "rough": "warning.rough.said",
    "shores": "warning.shores.said",
}


@warns(REACH, title=REACH_TITLE, bad="lost work", family="cover")
def last_reach_passed(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A scaffold or deck comes down while work that stands on it is still to come."""
    return _told(snapshot, schedule, "reach", REACH)


@warns(WAY_IN, title=WAY_IN_TITLE, bad="lost work", family="cover")
def last_way_in_passed(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A way closes before a long piece that has to come in by it is here."""
    return _told(snapshot, schedule, "way in", WAY_IN)


@warns(ROUGH, title=ROUGH_TITLE, bad="lost work", family="cover")
def insulated_first(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Batts ahead of an outside inspection of what lies in the same bays."""
    return _told(snapshot, schedule, "rough", ROUGH)


@warns(SHORES, title=SHORES_TITLE, bad="lost work", family="cover")
def shores_still_in(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Measured from or closed while the structure is still shored."""
    return _told(snapshot, schedule, "shores", SHORES)


@warns(POWER, title=POWER_TITLE, bad="lost work", family="cover")
def last_power_up_passed(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A circuit is covered, and nothing tries it before.

    One that must be seen and is not looked at is told by that already.
    """
    for layer, cover in unpowered(snapshot):
        if not layer.must_be_seen:
            yield about(
                snapshot,
                POWER,
                message("warning.last_power.said", layer=layer.name, cover=cover.name),
                (cover,),
                facts=(cover.id,),
                subject=(layer.id,),
                at=schedule[cover.id].early_start,
                layer_ids=(layer.id,),
                mends=tuple(look_at(snapshot, layer, cover)),
            )


def _told(snapshot: Snapshot, schedule: Schedule, why: Why, rule: str) -> Iterator[Warning]:
    for last in lasts(snapshot, why):
        before, after = snapshot.activities[last.before_id], snapshot.activities[last.after_id]
        yield about(
            snapshot,
            rule,
            message(SAID[why], before=before.name, after=after.name, of=last.of),
            (after, before),
            facts=(last.of, after.started is not None, after.finished is not None),
            subject=(before.id, after.id),
            at=schedule[after.id].early_start,
            mends=tuple(_drawn(snapshot, last)),
        )


def _drawn(snapshot: Snapshot, last: Last) -> Iterator[Mend]:
    """One put before the other in the plan, where that is still to come and makes no ring."""
    after = snapshot.activities[last.after_id]
    if after.started or after.finished or reach(snapshot).comes_before(after.id, last.before_id):
        return
    ids = ids_after(f"{last.before_id}o", snapshot.dependencies)
    draw = AddDependency(id=next(ids), before_id=last.before_id, after_id=after.id)
    yield Mend(message("warning.undrawn.draw"), (draw,))
