"""Warnings of hot work beside what burns or is marked, and of work beside a live circuit."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from server.core.asked import begins
from server.core.changes.stages import CircuitDead
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import place_of, places_of
from server.core.states import ahead, layer_state
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.making import with_facts
from server.core.world import Activity, Layer, Snapshot

HOT = "hot work"
HOT_TITLE = message("warning.hot_work.title")
LIVE = "live circuit"
LIVE_TITLE = message("warning.live_circuit.title")
MINDS_SPARKS = frozenset({"batt", "batts", "insulation", "foam", "glass", "zinc"})
"""Words for what burns, pits or is marked by sparks."""

SEEN = frozenset({"going in", "in the open", "opened up again"})


@warns(HOT, title=HOT_TITLE, bad="danger", family="space")
def hot_work(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Sparks near batts, glass, zinc or a finished face, with no fire watch and nothing protected.

    Of work under way or asked for. Near is: in the same detail; of finished faces, also in the
    same place. Not what is covered. 29 CFR 1926.352, from memory: what burns is moved or shielded
    (a, b), and somebody watches where that is not enough (e).
    """
    sparks = [a for a in snapshot.chain if a.hot and not a.fire_watch and a.finished is None]
    begin = begins(snapshot, schedule) if sparks else {}
    for activity in sparks:
        if activity.id not in begin:
            continue
        near = tuple(_near(snapshot, activity))
        if near:
            yield _hot(snapshot, activity, begin[activity.id], near)


def _near(snapshot: Snapshot, activity: Activity) -> Iterator[Layer]:
    """The layers near it that mind sparks, that are in by then and not covered."""
    place, before = place_of(snapshot, activity), ahead(snapshot, activity.id)
    for layer in snapshot.layers.values():
        detail = snapshot.details[layer.detail_id]
        same = layer.detail_id == activity.detail_id
        minds = same and MINDS_SPARKS.intersection(layer.material.casefold().split())
        finished = layer.finished and (same or (place and detail.place_id == place))
        if layer.ended is not None or detail.ended is not None or not (minds or finished):
            continue
        effects = [
            (e.verb, snapshot.activities[e.activity_id])
            for e in snapshot.effects_on.get(layer.id, ())
        ]
        if any(verb == "puts in" and task.id == activity.id for verb, task in effects):
            continue
        state = layer_state(snapshot, layer)
        due = [(v, a) for v, a in effects if a.id in before and a.finished is None]
        there = state in SEEN or any(verb == "puts in" for verb, _ in due)
        if there and not any(verb == "covers" for verb, _ in due):
            yield layer


def _hot(snapshot: Snapshot, activity: Activity, at: datetime, near: tuple[Layer, ...]) -> Warning:
    return Warning(
        rule=HOT,
        bad="danger",
        title=HOT_TITLE,
        sentence=message(
            "warning.hot_work.said",
            work=activity.name,
            near=tuple(layer.name for layer in near),
            when=at,
        ),
        subject=(activity.id,),
        identity=identity(HOT, activity.id, at.date(), *sorted(layer.id for layer in near)),
        at=at,
        detail_id=activity.detail_id,
        activity_ids=(activity.id,),
        layer_ids=tuple(layer.id for layer in near),
        place_ids=places_of(snapshot, (activity.id,)),
        crew_id=activity.crew_id,
        mends=(
            Mend(
                message("warning.fire_watch", work=activity.name),
                (with_facts(snapshot, activity, fire_watch=True),),
            ),
        ),
    )


@warns(LIVE, title=LIVE_TITLE, bad="danger", family="space")
def live_circuit(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Work in an opened wall or channel with its circuit not recorded dead.

    While it is under way, and from the day before a crew comes for it. 29 CFR 1926.416(a)(1), from
    memory: nobody works near a live circuit unless it is dead and grounded, or guarded.
    """
    live = [a for a in snapshot.chain if a.circuit and a.circuit_dead is None]
    begin = begins(snapshot, schedule) if live else {}
    tomorrow = schedule.status.date() + timedelta(days=1)
    for activity in live:
        at = begin.get(activity.id)
        if at is not None and at.date() <= tomorrow:
            yield _live(snapshot, schedule, activity, at)


def _live(snapshot: Snapshot, schedule: Schedule, activity: Activity, at: datetime) -> Warning:
    dead = CircuitDead(activity_id=activity.id, when=schedule.status)
    return Warning(
        rule=LIVE,
        bad="danger",
        title=LIVE_TITLE,
        sentence=message(
            "warning.live_circuit.begun" if activity.started else "warning.live_circuit.said",
            work=activity.name,
            circuit=activity.circuit,
            when=at,
        ),
        subject=(activity.id,),
        identity=identity(LIVE, activity.id, activity.circuit, at.date()),
        at=at,
        detail_id=activity.detail_id,
        activity_ids=(activity.id,),
        place_ids=places_of(snapshot, (activity.id,)),
        crew_id=activity.crew_id,
        mends=(Mend(message("warning.circuit_dead", circuit=activity.circuit), (dead,)),),
    )
