"""The work that a rejected check asks for: a task before the next look."""

from dataclasses import replace

from server.core.changes.inputs import LONGEST_NAME, ids_after, new_id
from server.core.changes.orders import behind
from server.core.states import looked_at, parts_of
from server.core.world import Activity, Attempt, Dependency, Effect, HoldPoint, Noun, Snapshot


def rework_rows(
    snapshot: Snapshot, id: str, hold: HoldPoint, rejected: Attempt, work: int
) -> tuple[Noun, ...]:
    """A task of `work` minutes for the crew that did it, in its place, on the same layers.

    It comes after all that the check comes after, and before the check; it is listed before it.
    """
    check = snapshot.activities[hold.activity_id]
    chain = snapshot.chain_of(check.detail_id)
    place = [a.id for a in chain].index(check.id)
    order, moved = behind(chain, chain[place - 1].id if place else None)
    done = _done(snapshot, hold)
    task = Activity(
        id=new_id(snapshot, Activity, id),
        project_id=hold.project_id,
        detail_id=check.detail_id,
        order=order,
        kind="task",
        name=f"{check.name}: {rejected.reason}"[:LONGEST_NAME],
        work=work,
        crew_id=done.crew_id if done else hold.marks_crew_id,
        place_id=done.place_id if done else check.place_id,
        calendar_id=done.calendar_id if done else None,
        rework_of_id=rejected.id,
    )
    if done is not None:
        task = replace(
            task,
            overhead=done.overhead,
            wet=done.wet,
            dirty=done.dirty,
            hot=done.hot,
            heavy=done.heavy,
        )
    return (
        *moved,
        task,
        *_arrows(snapshot, task, check),
        *_effects(snapshot, task, hold, rejected),
    )


def _done(snapshot: Snapshot, hold: HoldPoint) -> Activity | None:
    """The work that is looked at: the last that put a layer in, else what the check comes after."""
    before = [snapshot.activities[d.before_id] for d in snapshot.before.get(hold.activity_id, ())]
    tasks = looked_at(snapshot, hold) or [a for a in before if a.kind == "task"]
    direct = [a for a in tasks if a in before]
    return max(direct or tasks, key=lambda a: a.order, default=None)


def _arrows(snapshot: Snapshot, task: Activity, check: Activity) -> tuple[Dependency, ...]:
    ids = ids_after(task.id, snapshot.dependencies)
    before = {d.before_id: d.type[0] for d in snapshot.before.get(check.id, ())}
    to = [
        Dependency(
            id=next(ids),
            project_id=task.project_id,
            before_id=before_id,
            after_id=task.id,
            type=f"{end}S",
        )
        for before_id, end in before.items()
    ]
    on = Dependency(id=next(ids), project_id=task.project_id, before_id=task.id, after_id=check.id)
    return (*to, on)


def _effects(
    snapshot: Snapshot, task: Activity, hold: HoldPoint, rejected: Attempt
) -> tuple[Effect, ...]:
    """What was put in is put in again: the parts that were looked at, where a layer has them."""
    ids = ids_after(task.id, snapshot.effects)
    parts = rejected.parts or tuple(sorted(parts_of(hold)))
    put_in = {
        e.layer_id
        for a in looked_at(snapshot, hold)
        for e in snapshot.effects_of.get(a.id, ())
        if e.verb == "puts in"
    }
    return tuple(
        Effect(
            id=next(ids),
            project_id=task.project_id,
            activity_id=task.id,
            layer_id=layer_id,
            verb="puts in",
            parts=parts if parts and max(parts) <= snapshot.layers[layer_id].parts else (),
        )
        for layer_id in hold.layer_ids
        if layer_id in put_in
    )
