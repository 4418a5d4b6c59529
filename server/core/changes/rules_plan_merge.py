"""Rule: two tasks of one crew made one."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import BadInput, name_of, text_of, whole
from server.core.changes.matching import united
from server.core.changes.merging import facts_of_both
from server.core.changes.plan_facts import MOST_WORK, fits_a_day, hours_of
from server.core.changes.plan_rows import MergeActivities
from server.core.changes.rules_plan_activities import in_chain, refuse_booked
from server.core.changes.rules_plan_rows import happened
from server.core.promises import promised
from server.core.refusals import message
from server.core.standing import place_of
from server.core.states import ahead, behind
from server.core.world import Activity, Agreed, Dependency, Effect, Noun, Snapshot


@rule(MergeActivities)
def merge_activities(
    snapshot: Snapshot, actor: Actor, command: MergeActivities, at: datetime
) -> Outcome:
    """The earlier task becomes both; the later leaves the chain.

    What came before or after either comes before or after both, which is never sooner. Refused
    where something would have to hold from the middle of it.
    """
    first, second = _in_order(snapshot, command)
    _go_together(snapshot, first, second)
    _nothing_between(snapshot, first, second)
    work = first.work + second.work if command.work is None else command.work
    whole(work, 1, MOST_WORK, "work")
    merged = replace(
        facts_of_both(first, second, work),
        name=name_of(command.name or first.name),
        note=text_of("\n".join(dict.fromkeys(n for n in (first.note, second.note) if n)), "note"),
    )
    hours = hours_of(snapshot, merged.calendar_id, (merged.crew_id, *merged.with_crew_ids))
    if merged.one_day and not fits_a_day(work, hours):
        raise BadInput("plan.longer_than_a_day", field="work", longest=hours.longest_weekday)
    effects = _effects(snapshot, first, second)
    own = (
        *snapshot.before.get(first.id, ()), *snapshot.after.get(first.id, ()),
        *snapshot.before.get(second.id, ()), *snapshot.after.get(second.id, ()),
    )  # fmt: skip
    bound = _dependencies(snapshot, first, second)
    gone: list[Noun] = [d for d in own if d.id not in {kept.id for kept in bound}]
    gone += [
        e
        for a in (first, second)
        for e in snapshot.effects_of.get(a.id, ())
        if e.id not in {kept.id for kept in effects}
    ]
    rows: list[Noun] = [merged, replace(second, ended=at), *effects, *bound]
    rows += _promises(snapshot, first, second)
    said = message("log.merged", first=first.name, second=second.name, activity=merged.name)
    return Outcome(snapshot.drop(*gone).put(*rows), said)


def _in_order(snapshot: Snapshot, command: MergeActivities) -> tuple[Activity, Activity]:
    """Both, the one that comes before the other first; else as they are listed."""
    first = in_chain(snapshot, command.first_id, "first_id")
    second = in_chain(snapshot, command.second_id, "second_id")
    if first.id == second.id:
        raise BadInput("plan.merge_itself", field="second_id")
    if second.detail_id != first.detail_id:
        raise BadInput("plan.merge_elsewhere", field="second_id", activity=second.name)
    later = second.id in ahead(snapshot, first.id) or (
        first.id not in ahead(snapshot, second.id) and second.order < first.order
    )
    return (second, first) if later else (first, second)


def _go_together(snapshot: Snapshot, first: Activity, second: Activity) -> None:
    for task in (first, second):
        if task.kind != "task":
            raise BadInput("plan.only_tasks_merge", field="second_id", activity=task.name)
        if happened(snapshot, task):
            raise BadInput("plan.merge_happened", field="second_id", activity=task.name)
    refuse_booked(snapshot, {first.id, second.id})
    crews = [{a.crew_id, *a.with_crew_ids} - {None} for a in (first, second)]
    if crews[0] != crews[1]:
        raise BadInput("plan.merge_crews", field="second_id", first=first.name, second=second.name)
    if place_of(snapshot, first) != place_of(snapshot, second):
        raise BadInput("plan.merge_differs", field="second_id", what="place_id")


def _nothing_between(snapshot: Snapshot, first: Activity, second: Activity) -> None:
    """Nothing has to come between them, and nothing goes by the middle of what they become."""
    between = behind(snapshot, first.id) & ahead(snapshot, second.id)
    if names := tuple(a.name for a in snapshot.chain if a.id in between):
        raise BadInput("plan.merge_between", field="second_id", between=names)
    both = {first.id, second.id}
    for d in snapshot.after.get(first.id, ()):
        if d.after_id == second.id and d.type[0] == "F" and d.lag > 0:
            raise BadInput("plan.merge_waits", field="second_id", activity=second.name)
    for d, other_id in _by_the_middle(snapshot, first, second):
        if not {d.before_id, d.after_id} <= both:
            other = snapshot.activities[other_id].name
            raise BadInput("plan.merge_middle", field="second_id", other=other)


def _by_the_middle(
    snapshot: Snapshot, first: Activity, second: Activity
) -> Iterator[tuple[Dependency, str]]:
    """What holds or is held by the end of the first or the start of the second, and would be
    held less if that end moved to the end of both, or that start to the start of both.
    """
    for d in snapshot.before.get(first.id, ()):
        if d.type[1] == "F":
            yield d, d.before_id
    for d in snapshot.after.get(first.id, ()):
        if d.type[0] == "F" and d.most is not None:
            yield d, d.after_id
    for d in snapshot.after.get(second.id, ()):
        if d.type[0] == "S":
            yield d, d.after_id
    for d in snapshot.before.get(second.id, ()):
        if d.type[1] == "S" and d.most is not None:
            yield d, d.before_id


def _effects(snapshot: Snapshot, first: Activity, second: Activity) -> tuple[Effect, ...]:
    found: dict[tuple[str, str], Effect] = {}
    for task in (first, second):
        for effect in snapshot.effects_of.get(task.id, ()):
            key, own = (effect.verb, effect.layer_id), replace(effect, activity_id=first.id)
            found[key] = united(found[key], own) if key in found else own
    for (verb, layer_id), effect in found.items():
        parts = snapshot.layers[layer_id].parts
        if parts and effect.parts == tuple(range(1, parts + 1)):
            found[verb, layer_id] = replace(effect, parts=())
        for other, id in (
            ("covers", "plan.puts_in_and_covers"),
            ("needs open", "plan.puts_in_and_needs_open"),
        ):
            if verb == "puts in" and (other, layer_id) in found:
                layer = snapshot.layers[layer_id].name
                raise BadInput(id, field="second_id", layer=layer)
    return tuple(found.values())


def _dependencies(snapshot: Snapshot, first: Activity, second: Activity) -> tuple[Dependency, ...]:
    """All that led to or from either, without those between; of two alike the longer wait."""
    both = {first.id, second.id}
    found: dict[tuple[str, str, str], Dependency] = {}
    for task in (first, second):
        for d in (*snapshot.before.get(task.id, ()), *snapshot.after.get(task.id, ())):
            if d.before_id in both and d.after_id in both:
                continue
            before, after = (first.id if id in both else id for id in (d.before_id, d.after_id))
            moved = replace(d, before_id=before, after_id=after)
            key = before, after, d.type
            found[key] = _longer(snapshot, found[key], moved, both) if key in found else moved
    return tuple(found.values())


def _longer(snapshot: Snapshot, one: Dependency, other: Dependency, both: set[str]) -> Dependency:
    """One dependency that holds as much as two between the same ends."""
    if one.lag_on != other.lag_on and one.lag and other.lag:
        outer = other.after_id if other.before_id in both else other.before_id
        name = snapshot.activities[outer].name
        raise BadInput("plan.merge_two_waits", field="second_id", other=name)
    longer = max(one, other, key=lambda d: d.lag)
    most = min((d.most for d in (one, other) if d.most is not None), default=None)
    if most is not None and most < longer.lag:
        raise BadInput("plan.most_below_wait", field="second_id")
    return replace(one, lag=longer.lag, lag_on=longer.lag_on, most=most, tag="")


def _promises(snapshot: Snapshot, first: Activity, second: Activity) -> Iterator[Agreed]:
    """What was promised last for both, from the first start to the last finish."""
    newest = promised(snapshot, first.detail_id)
    rows = [newest[a.id] for a in (first, second) if a.id in newest]
    if rows:
        yield replace(
            rows[0],
            activity_id=first.id,
            start=min(row.start for row in rows),
            finish=max(row.finish for row in rows),
        )
