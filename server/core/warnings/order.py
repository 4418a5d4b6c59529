"""Warnings of the order that layers imply: not drawn, drawn the other way round, seen by nobody."""

from collections.abc import Iterable

from server.core.changes.base import Command
from server.core.changes.inputs import ids_after
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    CheckFacts,
    EndDependency,
)
from server.core.cover import Implied, implied, reach, stands, unseen
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Dependency, Layer, Snapshot

UNDRAWN = "undrawn order"
UNDRAWN_TITLE = message("warning.undrawn.title")
CONTRADICTED = "contradicted order"
CONTRADICTED_TITLE = message("warning.contradicted.title")
NOBODY_LOOKS = "nobody looks"
NOBODY_LOOKS_TITLE = message("warning.nobody_looks.title")
WHY = {
    "put in": "warning.undrawn.put_in",
    "check": "warning.undrawn.check",
    "inside": "warning.undrawn.inside",
}


@warns(UNDRAWN, title=UNDRAWN_TITLE, bad="lost work", family="cover")
def undrawn_order(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """What covers a layer does not follow what has to happen to it first: nobody drew it.

    Of several that lack before one cover, those are told that come last: the others follow.
    """
    lacking = [pair for pair in implied(snapshot) if stands(snapshot, pair) == "undrawn"]
    for pair in _last(snapshot, lacking):
        ids = ids_after(f"{pair.before_id}o", snapshot.dependencies)
        draw = AddDependency(id=next(ids), before_id=pair.before_id, after_id=pair.after_id)
        yield _warning(snapshot, schedule, pair, UNDRAWN, UNDRAWN_TITLE, (_draw(draw),))


@warns(CONTRADICTED, title=CONTRADICTED_TITLE, bad="lost work", family="cover")
def contradicted_order(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The chain puts what covers a layer before what has to happen to it first."""
    for pair in implied(snapshot):
        if stands(snapshot, pair) != "contradicted":
            continue
        mends = tuple(_turned(snapshot, pair))
        yield _warning(snapshot, schedule, pair, CONTRADICTED, CONTRADICTED_TITLE, mends)


@warns(NOBODY_LOOKS, title=NOBODY_LOOKS_TITLE, bad="lost work", family="cover")
def nobody_looks(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A layer that must be seen is covered, and no check, invited look or photo is asked for."""
    for layer, cover in unseen(snapshot):
        yield Warning(
            rule=NOBODY_LOOKS,
            bad="lost work",
            title=NOBODY_LOOKS_TITLE,
            sentence=message("warning.nobody_looks.said", layer=layer.name, cover=cover.name),
            subject=(layer.id,),
            identity=identity(NOBODY_LOOKS, layer.id, cover.id),
            at=schedule[cover.id].early_start,
            detail_id=layer.detail_id,
            activity_ids=(cover.id,),
            layer_ids=(layer.id,),
            place_ids=places_of(snapshot, (cover.id,)),
            mends=tuple(look_at(snapshot, layer, cover)),
        )


def _warning(
    snapshot: Snapshot,
    schedule: Schedule,
    pair: Implied,
    rule: str,
    title: Message,
    mends: tuple[Mend, ...],
) -> Warning:
    before, after = snapshot.activities[pair.before_id], snapshot.activities[pair.after_id]
    layer = snapshot.layers[pair.layer_id]
    id = "warning.contradicted.said" if rule == CONTRADICTED else WHY[pair.why]
    return Warning(
        rule=rule,
        bad="lost work",
        title=title,
        sentence=message(id, before=before.name, after=after.name, layer=layer.name),
        subject=(before.id, after.id),
        identity=identity(rule, before.id, after.id, layer.id),
        at=schedule[after.id].early_start,
        detail_id=after.detail_id,
        activity_ids=(after.id, before.id),
        layer_ids=(layer.id,),
        place_ids=places_of(snapshot, (after.id,)),
        mends=mends,
    )


def _last(snapshot: Snapshot, lacking: list[Implied]) -> Iterable[Implied]:
    """One for each pair of activities, without those that follow once the others are drawn."""
    known = reach(snapshot)
    pairs = {(pair.before_id, pair.after_id): pair for pair in reversed(lacking)}
    for (before, after), pair in reversed(pairs.items()):
        later = any(
            other != before and (other, after) in pairs and known.ends_before(before, other)
            for other, cover in pairs
            if cover == after
        )
        earlier = any(
            cover != after and known.ends_before(cover, after)
            for first, cover in pairs
            if first == before
        )
        if not later and not earlier:
            yield pair


def _draw(command: AddDependency) -> Mend:
    return Mend(message("warning.undrawn.draw"), (command,))


def _turned(snapshot: Snapshot, pair: Implied) -> Iterable[Mend]:
    """The arrow between the two turned round; where others lie between, the last of them ended."""
    between = _arrows(snapshot, pair)
    for arrow in between:
        commands: tuple[Command, ...] = (EndDependency(dependency_id=arrow.id),)
        ids = ids_after(f"{pair.before_id}o", snapshot.dependencies)
        drawn = AddDependency(id=next(ids), before_id=pair.before_id, after_id=pair.after_id)
        first, then = snapshot.activities[arrow.before_id], snapshot.activities[arrow.after_id]
        label = message("warning.contradicted.turn", first=first.name, then=then.name)
        yield Mend(label, (*commands, drawn))


def _arrows(snapshot: Snapshot, pair: Implied) -> list[Dependency]:
    """The arrows on a way from the cover to what should come before it, the nearest to that first.

    Only those of which one alone carries the way: ending one of two ways would help nothing.
    """
    known = reach(snapshot)
    found = []
    for arrow in snapshot.before.get(pair.before_id, ()):
        first = arrow.before_id
        if first == pair.after_id or known.comes_before(pair.after_id, first):
            found.append(arrow)
    return found if len(found) == 1 else []


def look_at(snapshot: Snapshot, layer: Layer, cover: Activity) -> Iterable[Mend]:
    """A check before cover, after whatever puts the layer in."""
    puts_in = [
        e.activity_id
        for e in snapshot.effects_on.get(layer.id, ())
        if e.verb == "puts in" and e.activity_id in reach(snapshot).numbers
    ]
    if not puts_in or cover.started is not None:
        return
    ids = ids_after(f"{layer.id}k", (*snapshot.activities, *snapshot.holds))
    check_id, hold_id, arrow_id = next(ids), next(ids), next(ids)
    crew = snapshot.activities[puts_in[-1]].crew_id
    check = CheckFacts(
        what=layer.name,
        photos=1,
        marks_crew_id=crew,
        layer_ids=(layer.id,),
    )
    yield Mend(
        message("warning.nobody_looks.add", layer=layer.name),
        (
            AddActivity(
                id=check_id,
                detail_id=layer.detail_id,
                facts=ActivityFacts(name=layer.name, kind="hold"),
                behind_id=puts_in[-1],
                after=tuple(puts_in),
                hold_id=hold_id,
                check=check,
            ),
            AddDependency(id=arrow_id, before_id=check_id, after_id=cover.id),
        ),
    )
