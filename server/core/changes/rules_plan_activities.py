"""Rules: an activity comes into a chain, is changed, leaves it."""

from collections.abc import Iterator
from dataclasses import fields, replace
from datetime import datetime

from server.core.changes.base import Actor, Gone, Outcome, rule
from server.core.changes.inputs import (
    BadInput,
    ids_after,
    name_of,
    new_id,
    reason_of,
    text_of,
    there,
)
from server.core.changes.orders import at_the_end, behind
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    ChangeActivity,
    CheckFacts,
    EndActivity,
)
from server.core.changes.plan_checks import asks_of, checked_check, hold_of, with_facts
from server.core.changes.plan_facts import VERBS, checked
from server.core.changes.rings import reaches
from server.core.refusals import Message, message
from server.core.world import (
    TABLES,
    Activity,
    Booking,
    Dependency,
    Detail,
    Effect,
    HoldPoint,
    Noun,
    Snapshot,
)

OPEN_VISITS = frozenset({"asked", "coming"})
# The facts that are fields of the activity itself; the others become rows of their own.
PLAIN = tuple(f.name for f in fields(ActivityFacts) if f.name not in VERBS)
# What may still be put right when the work is done: what it is called, and what is said of it.
AFTERWARDS = ("name", "note")


@rule(AddActivity)
def add_activity(snapshot: Snapshot, actor: Actor, command: AddActivity, at: datetime) -> Outcome:
    """The activity, its effects and check, and what it comes after."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    facts = checked(snapshot, detail.id, command.facts)
    if (facts.kind == "hold") != (command.check is not None):
        raise BadInput("plan.check_needed", field="kind")
    chain = snapshot.chain_of(detail.id)
    if command.behind_id and command.behind_id not in {a.id for a in chain}:
        raise Gone("change.gone", field="behind_id", what=TABLES[Activity])
    order, moved = (
        behind(chain, command.behind_id) if command.behind_id else (at_the_end(chain), ())
    )
    activity = Activity(
        id=new_id(snapshot, Activity, command.id),
        project_id=snapshot.project.id,
        detail_id=detail.id,
        order=order,
        **{name: getattr(facts, name) for name in PLAIN},
    )
    rows: list[Noun] = [*moved, activity, *effect_rows(snapshot, activity, facts)]
    ids = ids_after(activity.id, snapshot.dependencies)
    for before_id in dict.fromkeys(command.after):
        before = in_chain(snapshot, before_id, "after")
        rows.append(_after(next(ids), before, activity))
    if command.check is not None:
        check = checked_check(snapshot, detail.id, command.check)
        hold = hold_of(activity, new_id(snapshot, HoldPoint, command.hold_id or ""), check)
        rows += [hold, *asks_of(snapshot, hold, check.asks)]
    return Outcome(
        snapshot.put(*rows),
        message("log.activity_added", activity=activity.name, detail=detail.name),
    )


@rule(ChangeActivity)
def change_activity(
    snapshot: Snapshot, actor: Actor, command: ChangeActivity, at: datetime
) -> Outcome:
    """Other facts; a done activity keeps all but its name and note, a check its numbers."""
    activity = in_chain(snapshot, command.activity_id, "activity_id")
    if command.facts.kind != activity.kind:
        raise BadInput("plan.kind_stays", field="kind")
    if (activity.kind == "hold") != (command.check is not None):
        raise BadInput("plan.check_needed", field="kind")
    if activity.finished is not None:
        return _afterwards(snapshot, activity, command)
    facts = checked(snapshot, activity.detail_id, command.facts)
    changed = replace(activity, **{name: getattr(facts, name) for name in PLAIN})
    if (changed.work, changed.low, changed.high) != (activity.work, activity.low, activity.high):
        changed = replace(changed, tag="")
    if changed.circuit != activity.circuit:
        changed = replace(changed, circuit_dead=None)
    effects = effect_rows(snapshot, activity, facts)
    gone = [e for e in snapshot.effects_of.get(activity.id, ()) if e.id not in _ids(effects)]
    after = snapshot.drop(*gone).put(changed, *effects)
    if command.check is not None:
        after = _check_changed(after, activity, command.check)
    return Outcome(after, _changed(snapshot, changed))


@rule(EndActivity)
def end_activity(snapshot: Snapshot, actor: Actor, command: EndActivity, at: datetime) -> Outcome:
    """The activity ends, with what it left; what it stood between is tied together.

    A bridge runs from the end of the earlier that the first dependency counts from to the end of
    the later that the second counts to, with no time between. So a check that drops out never
    lets what followed it run ahead of what came before it.
    """
    activity = in_chain(snapshot, command.activity_id, "activity_id")
    refuse_booked(snapshot, {activity.id})
    hold = snapshot.hold_of.get(activity.id)
    looked_at = hold is not None and hold.id in snapshot.attempts_of
    happened = activity.started is not None or looked_at
    reason = reason_of(command.reason) if happened else text_of(command.reason, "reason")
    to, out = snapshot.before.get(activity.id, ()), snapshot.after.get(activity.id, ())
    ended = replace(activity, ended=at, ended_reason=reason)
    planned = () if happened else snapshot.effects_of.get(activity.id, ())
    without = snapshot.drop(*to, *out, *planned)
    after = without.put(ended, *_unmatched(snapshot, ended), *_bridges(without, activity, to, out))
    names = {"activity": activity.name, "detail": snapshot.details[activity.detail_id].name}
    if reason:
        return Outcome(after, message("log.activity_ended_because", **names, reason=reason))
    return Outcome(after, message("log.activity_ended", **names))


def in_chain(snapshot: Snapshot, id: str, field: str) -> Activity:
    """An activity that is in a chain: neither it nor its detail is ended."""
    activity = there(snapshot, Activity, id, field)
    there(snapshot, Detail, activity.detail_id, field)
    return activity


def refuse_booked(snapshot: Snapshot, activity_ids: set[str]) -> None:
    """Refuses to end what a crew is asked or coming for: it has to hear of it first."""
    if (visit := booked(snapshot, activity_ids)) is not None:
        crew = snapshot.crews[visit.crew_id].name
        raise BadInput("plan.still_booked", crew=crew, start=visit.start)


def booked(snapshot: Snapshot, activity_ids: set[str]) -> Booking | None:
    """A visit that a crew is asked or coming for, to do one of these that is not done."""
    for booking in snapshot.bookings.values():
        counts = booking.ended is None and booking.state in OPEN_VISITS
        open_tasks = {id for id in booking.activity_ids if snapshot.activities[id].finished is None}
        if counts and open_tasks & activity_ids:
            return booking
    return None


def effect_rows(snapshot: Snapshot, activity: Activity, facts: ActivityFacts) -> tuple[Effect, ...]:
    """The rows of what a task does to layers. An effect that stays keeps its row."""
    kept = {(e.verb, e.layer_id): e for e in snapshot.effects_of.get(activity.id, ())}
    ids = ids_after(activity.id, snapshot.effects)
    wanted = (
        (verb, layer_id, parts)
        for field, verb in VERBS.items()
        for layer_id, parts in getattr(facts, field).items()
    )
    return tuple(
        replace(row, parts=parts)
        if (row := kept.get((verb, layer_id))) is not None
        else Effect(
            id=next(ids),
            project_id=activity.project_id,
            activity_id=activity.id,
            layer_id=layer_id,
            verb=verb,
            parts=parts,
        )
        for verb, layer_id, parts in wanted
    )


def _unmatched(snapshot: Snapshot, decision: Activity) -> Iterator[Activity]:
    """What had to match the sample of a decision that leaves the chain, without it."""
    for activity in snapshot.activities.values():
        if activity.sample_id == decision.id and activity.finished is None:
            yield replace(activity, sample_id=None)


def _afterwards(snapshot: Snapshot, activity: Activity, command: ChangeActivity) -> Outcome:
    """A done activity under another name or note; refused if anything else is other than it was."""
    facts = command.facts
    for name in PLAIN:
        if name not in AFTERWARDS and getattr(facts, name) != getattr(activity, name):
            raise BadInput("plan.done_already", field=name, activity=activity.name)
    for field, verb in VERBS.items():
        effects = snapshot.effects_of.get(activity.id, ())
        was = {effect.layer_id: effect.parts for effect in effects if effect.verb == verb}
        if dict(getattr(facts, field)) != was:
            raise BadInput("plan.done_already", field=field, activity=activity.name)
    after = snapshot.put(
        replace(activity, name=name_of(facts.name), note=text_of(facts.note, "note"))
    )
    if command.check is not None and _check_changed(after, activity, command.check) != after:
        raise BadInput("plan.done_already", field="what", activity=activity.name)
    return Outcome(after, _changed(snapshot, after.activities[activity.id]))


def _check_changed(snapshot: Snapshot, activity: Activity, check: CheckFacts) -> Snapshot:
    hold = snapshot.hold_of[activity.id]
    check = checked_check(snapshot, activity.detail_id, check)
    asks = asks_of(snapshot, hold, check.asks)
    gone = [ask for ask in snapshot.asks_of.get(hold.id, ()) if ask.id not in _ids(asks)]
    measured = {m.ask_id for m in snapshot.measurements.values()}
    if lost := next((ask for ask in gone if ask.id in measured), None):
        raise BadInput("plan.ask_has_numbers", field="asks", ask=lost.label)
    return snapshot.drop(*gone).put(with_facts(hold, check), *asks)


def _bridges(
    snapshot: Snapshot,
    between: Activity,
    to: tuple[Dependency, ...],
    out: tuple[Dependency, ...],
) -> Iterator[Dependency]:
    ids = ids_after(between.id, snapshot.dependencies)
    only = len(to) == len(out) == 1 and to[0].lag_on == out[0].lag_on
    for first in to:
        for second in out:
            type = first.type[0] + second.type[1]
            if reaches(snapshot, first.before_id, second.after_id, type):
                continue
            yield Dependency(
                id=next(ids),
                project_id=between.project_id,
                before_id=first.before_id,
                after_id=second.after_id,
                type=type,
                lag=first.lag + second.lag if only else 0,
                lag_on=first.lag_on if only else "clock",
            )


def _after(id: str, before: Activity, activity: Activity) -> Dependency:
    return Dependency(
        id=id, project_id=activity.project_id, before_id=before.id, after_id=activity.id
    )


def _ids(rows: tuple[Noun, ...]) -> set[str]:
    return {row.id for row in rows}


def _changed(snapshot: Snapshot, activity: Activity) -> Message:
    detail = snapshot.details[activity.detail_id]
    return message("log.activity_changed", activity=activity.name, detail=detail.name)
