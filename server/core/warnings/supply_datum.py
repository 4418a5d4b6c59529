"""The warning of a line or benchmark that is covered before the last number is taken from it."""

from collections.abc import Iterable, Iterator, Sequence

from server.core.changes.inputs import ids_after
from server.core.changes.plan import ActivityFacts, AddActivity, AddDependency, EndDependency
from server.core.measured import put_in
from server.core.next import mover_of
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.states import ahead, layer_state
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, Layer, Snapshot

DATUM = "datum covered"
DATUM_TITLE = message("warning.datum_covered.title")

# Common practice for moving a line, in working minutes.
MOVING = 30


@warns(DATUM, title=DATUM_TITLE, bad="lost work", family="supply")
def datum_covered(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """What later numbers are measured from is covered before they are, and not moved first.

    One note for each layer: covered in fact, or by what the plan puts before what is measured. It
    is moved by a task that carries the line, done or in the plan before the cover.
    """
    measured: dict[str, list[Activity]] = {}
    for activity in snapshot.chain:
        layer_id = activity.measured_from_id or ""
        if activity.finished is None and not activity.carries_datum and layer_id in snapshot.layers:
            measured.setdefault(layer_id, []).append(activity)
    for layer_id, activities in measured.items():
        layer = snapshot.layers[layer_id]
        if layer.ended is not None:
            continue
        covers = _covers(snapshot, layer)
        carries = _carrying(snapshot, layer)
        if not covers or any(a.finished is not None for a in carries):
            continue
        blind = [(a, c) for a in activities if (c := _covered_by(snapshot, layer, a, covers))]
        blind = [(a, c) for a, c in blind if not _moved_first(snapshot, carries, c)]
        if blind:
            yield _told(snapshot, schedule, layer, blind, carries)


def _told(
    snapshot: Snapshot,
    schedule: Schedule,
    layer: Layer,
    blind: Sequence[tuple[Activity, Activity]],
    carries: Sequence[Activity],
) -> Warning:
    works, covers = [a for a, _ in blind], list({c.id: c for _, c in blind}.values())
    hold = next((h for a in works if (h := snapshot.hold_of.get(a.id))), None)
    done = any(c.finished is not None for c in covers)
    mends = [] if done else list(_mends(snapshot, layer, blind, covers, carries))
    if hold is not None:
        mends.append(Mend(message("warning.open_check"), goto_hold_id=hold.id))
    return about(
        snapshot,
        DATUM,
        message(
            "warning.datum_covered.done" if done else "warning.datum_covered.said",
            work=tuple(a.name for a in works),
            layer=layer.name,
            cover=tuple(a.name for a in covers),
        ),
        (*works, *covers),
        subject=(layer.id,),
        facts=(*(f"{a.id} {c.id} {c.finished}" for a, c in blind),),
        at=min(c.started or schedule[c.id].early_start for c in covers),
        layer_ids=(layer.id,),
        hold_id=hold.id if hold else None,
        who=mover_of(snapshot, works[0], schedule),
        mends=mends,
    )


def _covers(snapshot: Snapshot, layer: Layer) -> tuple[Activity, ...]:
    """The tasks that cover all of a layer."""
    found = (
        snapshot.activities[e.activity_id]
        for e in snapshot.effects_on.get(layer.id, ())
        if e.verb == "covers" and (not e.parts or len(e.parts) == layer.parts)
    )
    return tuple(a for a in found if a.ended is None)


def _carrying(snapshot: Snapshot, layer: Layer) -> tuple[Activity, ...]:
    chain = snapshot.chain_of(layer.detail_id)
    return tuple(a for a in chain if a.carries_datum and a.measured_from_id == layer.id)


def _covered_by(
    snapshot: Snapshot, layer: Layer, activity: Activity, covers: Sequence[Activity]
) -> Activity | None:
    """What covers a layer before something is measured from it: in fact, or by the plan."""
    others = [a for a in covers if a.id != activity.id]
    if layer_state(snapshot, layer) == "covered":
        return next((a for a in others if a.finished is not None), None)
    first = ahead(snapshot, activity.id) if others else frozenset()
    return next((a for a in others if a.id in first and a.finished is None), None)


def _moved_first(snapshot: Snapshot, carries: Sequence[Activity], cover: Activity) -> bool:
    if cover.finished is not None or not carries:
        return False
    first = ahead(snapshot, cover.id)
    return any(a.id in first for a in carries)


def _mends(
    snapshot: Snapshot,
    layer: Layer,
    blind: Sequence[tuple[Activity, Activity]],
    covers: Sequence[Activity],
    carries: Sequence[Activity],
) -> Iterator[Mend]:
    """The line is moved before the cover; or what is measured comes first."""
    ids = ids_after(covers[0].id, snapshot.dependencies)
    names = tuple(a.name for a in covers)
    if carries:
        yield Mend(
            message("warning.first_before", work=(carries[0].name,), after=covers[0].name),
            tuple(
                AddDependency(id=next(ids), before_id=carries[0].id, after_id=c.id) for c in covers
            ),
        )
    else:
        yield Mend(
            message("warning.move_the_line", layer=layer.name, before=names),
            tuple(_moving(snapshot, layer, blind[0][0], covers)),
        )
    arrows = {(d.before_id, d.after_id): d for d in snapshot.dependencies.values()}
    pairs = [(a, c, d) for a, c in blind if (d := arrows.get((c.id, a.id)))]
    if len(pairs) == len(blind):
        works = tuple(a.name for a, _ in blind)
        turned = (
            command
            for a, c, d in pairs
            for command in (
                EndDependency(dependency_id=d.id),
                AddDependency(id=next(ids), before_id=a.id, after_id=c.id),
            )
        )
        label = message("warning.first_before", work=works, after=covers[0].name)
        yield Mend(label, tuple(turned))


def _moving(
    snapshot: Snapshot, layer: Layer, measured: Activity, covers: Sequence[Activity]
) -> Iterator[AddActivity | AddDependency]:
    """A short task that carries the line, after what puts it in and before what covers it."""
    id = next(ids_after(layer.id, snapshot.activities))
    tasks = put_in(snapshot, layer)
    last = max(tasks, key=lambda a: a.order, default=None)
    yield AddActivity(
        id=id,
        detail_id=layer.detail_id,
        facts=ActivityFacts(
            name=layer.name,
            work=MOVING,
            crew_id=measured.crew_id or (last.crew_id if last else None),
            place_id=measured.place_id,
            measured_from_id=layer.id,
            carries_datum=True,
        ),
        behind_id=last.id if last and last.detail_id == layer.detail_id else None,
        after=tuple(a.id for a in tasks if a.finished is None),
    )
    ids = ids_after(f"{id}d", snapshot.dependencies)
    for cover in covers:
        yield AddDependency(id=next(ids), before_id=id, after_id=cover.id)
