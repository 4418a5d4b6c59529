"""Rule: a task in two, one right after the other."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import Any

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import BadInput, ids_after, name_of, new_id
from server.core.changes.orders import placed
from server.core.changes.plan_facts import MOST_WORK, YEARS, fits_a_day, hours_of, parts_of
from server.core.changes.plan_rows import SplitActivity
from server.core.changes.rules_plan_activities import in_chain
from server.core.promises import promised
from server.core.refusals import message
from server.core.shifts import end_after
from server.core.world import Activity, Booking, Dependency, Effect, Noun, Snapshot


@rule(SplitActivity)
def split_activity(
    snapshot: Snapshot, actor: Actor, command: SplitActivity, at: datetime
) -> Outcome:
    """The task is its first half, and a new one right behind it is its second.

    What bound the start binds the first, what bound the finish the second; likewise whatever came
    after. So all other dates stay, unless something holds the finish: the whole was one run that
    began later for it, and now only the second half waits. A visit asked for the whole is for both;
    the dates promised for the whole are promised for both, divided as the work is.
    """
    task = in_chain(snapshot, command.activity_id, "activity_id")
    _splits(task)
    first_work, second_work = _works(snapshot, task, command)
    first, second = _halves(snapshot, task, command, first_work, second_work)
    chain = [a for a in snapshot.chain_of(task.detail_id) if a.id != task.id]
    before = [a for a in chain if a.order <= task.order]
    behind_id = before[-1].id if before else None
    rows: list[Noun] = [*placed(chain, (first, second), behind_id)]
    effects = list(_effects(snapshot, task, second, command))
    kept = {effect.id for effect in effects}
    rows += [*effects, *_dependencies(snapshot, task, second)]
    rows += [*_visits(snapshot, task, second, at), *_promises(snapshot, task, first, second)]
    gone = [e for e in snapshot.effects_of.get(task.id, ()) if e.id not in kept]
    said = message("log.split", activity=task.name, first=first.name, second=second.name)
    return Outcome(snapshot.drop(*gone).put(*rows), said)


def _splits(task: Activity) -> None:
    """Only a task nobody has begun: what happened is a fact about the whole of it."""
    if task.kind != "task":
        raise BadInput("plan.only_a_task_splits", field="activity_id")
    if task.finished is not None:
        raise BadInput("plan.split_done", field="activity_id", activity=task.name)
    if task.started is not None:
        raise BadInput("plan.split_under_way", field="activity_id", activity=task.name)


def _works(snapshot: Snapshot, task: Activity, command: SplitActivity) -> tuple[int, int]:
    second = task.work - command.work if command.second_work is None else command.second_work
    for field, minutes in (("work", command.work), ("second_work", second)):
        if field == "second_work" and command.second_work is None and minutes <= 0:
            raise BadInput("plan.no_rest", field="work", whole=task.work)
        if minutes <= 0:
            raise BadInput("plan.no_time", field=field)
        if minutes > MOST_WORK:
            raise BadInput("plan.absurd_time", field=field, years=YEARS)
        hours = hours_of(snapshot, task.calendar_id, (task.crew_id, *task.with_crew_ids))
        if task.one_day and not fits_a_day(minutes, hours):
            raise BadInput("plan.longer_than_a_day", field=field, longest=hours.longest_weekday)
    return command.work, second


def _halves(
    snapshot: Snapshot, task: Activity, command: SplitActivity, work: int, second_work: int
) -> tuple[Activity, Activity]:
    """Both with the facts of the whole, but for those that hold at its start or at its end.

    A way, an edge, a temporary work and a datum are taken as they are worst: gone from the start of
    the first, there (again) only with the end of the second.
    """
    strikes = task.temporary == "strikes"
    sets = task.temporary == "sets"
    first = replace(
        task,
        name=name_of(command.name),
        **_span(task, work),
        finish_by=None,
        opens_way_id=None,
        edge="" if task.edge == "closes" else task.edge,
        carries_datum=False,
        temporary="" if sets else task.temporary,
        temporary_id=None if sets else task.temporary_id,
    )
    second = replace(
        task,
        id=new_id(snapshot, Activity, command.id),
        version=1,
        name=name_of(command.second_name, "second_name"),
        **_span(task, second_work),
        not_before=None,
        closes_way_id=None,
        edge="" if task.edge == "opens" else task.edge,
        temporary="" if strikes else task.temporary,
        temporary_id=None if strikes else task.temporary_id,
        circuit_dead=None,
    )
    return first, second


def _span(task: Activity, work: int) -> dict[str, Any]:
    """The time of a half, its range in proportion; the numbers are the company's own now."""
    return {
        "work": work,
        "low": None if task.low is None else task.low * work // task.work,
        "high": None if task.high is None else -(-task.high * work // task.work),
        "tag": "",
    }


def _effects(
    snapshot: Snapshot, task: Activity, second: Activity, command: SplitActivity
) -> Iterator[Effect]:
    """What each half does to layers. An effect of the first keeps the row that it has.

    With parts, each does its own. Without, both put the layer in, so that it is in the open only
    when both are done, and both need it open; both hide it, so that it is hidden from when the
    first begins; only the second opens it up, so that it is open only when all of it is. Where the
    task also works inside what it hides, only the second hides it: the first leaves it open.
    """
    own = snapshot.effects_of.get(task.id, ())
    for layer_id, parts in command.parts.items():
        field = f"parts_{layer_id}"
        done = [e for e in own if e.layer_id == layer_id]
        if not done:
            raise BadInput("plan.not_on_layer", field=field)
        parts_of(snapshot.layers[layer_id], parts, field)
    ids = ids_after(second.id, snapshot.effects)
    inside = _worked_inside(snapshot, own)
    for effect in own:
        if part := command.parts.get(effect.layer_id):
            whole = effect.parts or range(1, snapshot.layers[effect.layer_id].parts + 1)
            now = tuple(p for p in whole if p in part)
            then = tuple(p for p in whole if p not in part)
            if now:
                yield replace(effect, parts=now if then else effect.parts)
            if then:
                parts = then if now else effect.parts
                yield replace(effect, id=next(ids), activity_id=second.id, parts=parts, version=1)
            continue
        later = effect.verb == "opens" or (effect.verb == "covers" and effect.layer_id in inside)
        if not later:
            yield effect
        yield replace(effect, id=next(ids), activity_id=second.id, version=1)


def _worked_inside(snapshot: Snapshot, effects: tuple[Effect, ...]) -> set[str]:
    """The layers that a task puts something into, or needs open, or needs open what lies within."""
    found: set[str] = set()
    for effect in effects:
        layer = snapshot.layers[effect.layer_id]
        if effect.verb == "needs open":
            found.add(layer.id)
        if effect.verb in ("needs open", "puts in") and layer.within_id:
            found.add(layer.within_id)
    return found


def _dependencies(snapshot: Snapshot, task: Activity, second: Activity) -> Iterator[Dependency]:
    ids = ids_after(second.id, snapshot.dependencies)
    yield Dependency(
        id=next(ids), project_id=task.project_id, before_id=task.id, after_id=second.id
    )
    for d in snapshot.before.get(task.id, ()):
        if d.type[1] == "F":
            yield replace(d, after_id=second.id)
    for d in snapshot.after.get(task.id, ()):
        if d.type[0] == "F":
            yield replace(d, before_id=second.id)


def _visits(
    snapshot: Snapshot, task: Activity, second: Activity, at: datetime
) -> Iterator[Booking]:
    """The crew that is asked for the whole is asked for both halves."""
    for visit in snapshot.visits_of.get(task.id, ()):
        if visit.ended is None and visit.finish > at:
            index = visit.activity_ids.index(task.id) + 1
            ids = (*visit.activity_ids[:index], second.id, *visit.activity_ids[index:])
            yield replace(visit, activity_ids=ids)


def _promises(
    snapshot: Snapshot, task: Activity, first: Activity, second: Activity
) -> Iterator[Noun]:
    """What was promised last for the whole, divided where the first half would be done."""
    agreed = promised(snapshot, task.detail_id).get(task.id)
    if agreed is None:
        return
    hours = hours_of(snapshot, task.calendar_id, (task.crew_id, *task.with_crew_ids))
    middle = min(end_after(hours, agreed.start, first.work), agreed.finish)
    yield replace(agreed, finish=middle)
    id = next(ids_after(second.id, snapshot.agreed))
    yield replace(agreed, id=id, activity_id=second.id, start=middle, version=1)
