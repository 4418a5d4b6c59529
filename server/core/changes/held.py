"""Who looks at a check and how to reach them, for refusals that must not be a dead end."""

from datetime import datetime

from server.core.changes.base import Actor, Gone, find
from server.core.refusals import Refusal
from server.core.world import TABLES, Activity, Detail, HoldPoint, Person, Snapshot


class Held(Refusal):
    """A check is not OK to cover: which (`hold_id`), whose (`person_id`), how to reach them."""

    hold_id: str = ""
    person_id: str | None = None


def held_by(snapshot: Snapshot, actor: Actor, hold: HoldPoint) -> Held:
    """The refusal to start what a check holds."""
    person = releaser_of(snapshot, hold)
    check, name = check_name(snapshot, hold), person.name if person else ""
    phone = person.phone if person else ""
    outside = hold.authority
    if person is not None and person.id == actor.person_id:
        refusal = Held(
            "actuals.held_outside_by_you" if outside else "actuals.held_by_you",
            field="anyway",
            check=check,
        )
    elif phone:
        refusal = Held(
            "actuals.held_outside_call" if outside else "actuals.held_call",
            field="anyway",
            check=check,
            whose=name,
            phone=phone,
        )
    else:
        refusal = Held(
            "actuals.held_outside" if outside else "actuals.held",
            field="anyway",
            check=check,
            whose=name,
        )
    return _about(refusal, hold, person)


def hidden_by(snapshot: Snapshot, hold: HoldPoint, parts: frozenset[int] | None) -> Held:
    """The refusal to be done with what hides a check (None) or some of its parts unseen."""
    person = releaser_of(snapshot, hold)
    check, name = check_name(snapshot, hold), person.name if person else ""
    if parts is None:
        refusal = Held("actuals.hides_unseen", field="anyway", check=check, whose=name)
    else:
        named = part_names(hold, parts)
        refusal = Held("actuals.left_out", field="anyway", check=check, parts=named, whose=name)
    return _about(refusal, hold, person)


def check_of(snapshot: Snapshot, hold_id: str) -> HoldPoint:
    """A check that is in a chain, or `Gone`."""
    hold = find(snapshot, HoldPoint, hold_id)
    activity = snapshot.activities[hold.activity_id]
    if activity.ended is not None or snapshot.details[activity.detail_id].ended is not None:
        raise Gone("change.gone", what=TABLES[HoldPoint])
    return hold


def activity_of(snapshot: Snapshot, id: str) -> Activity:
    """An activity that is in a chain, or `Gone`."""
    activity = find(snapshot, Activity, id)
    if activity.ended is not None:
        raise Gone("change.gone", what=TABLES[Activity])
    if snapshot.details[activity.detail_id].ended is not None:
        raise Gone("change.gone", what=TABLES[Detail])
    return activity


def releaser_of(snapshot: Snapshot, hold: HoldPoint) -> Person | None:
    """Who says OK to cover: the person named, else the super (who also records outside looks)."""
    person = snapshot.people.get(hold.releases_id or "")
    return person or super_of(snapshot)


def super_of(snapshot: Snapshot) -> Person | None:
    """Who runs the work: of several the one with a phone, else the first."""
    supers = [p for p in snapshot.people.values() if p.role == "super" and p.ended is None]
    return next((p for p in supers if p.phone), supers[0] if supers else None)


def check_name(snapshot: Snapshot, hold: HoldPoint) -> str:
    """What a check is called in the chain."""
    return snapshot.activities[hold.activity_id].name


def part_names(hold: HoldPoint, parts: frozenset[int]) -> tuple[str, ...]:
    """Parts of a check by their trade name: "No. 3"."""
    return tuple(f"{hold.part_name} {no}" for no in sorted(parts))


def person_name(snapshot: Snapshot, id: str | None) -> str:
    """A person's name, or nothing."""
    person = snapshot.people.get(id or "")
    return person.name if person else ""


def minute(at: datetime) -> datetime:
    """A moment as it is kept: to the minute."""
    return at.replace(second=0, microsecond=0)


def _about(refusal: Held, hold: HoldPoint, person: Person | None) -> Held:
    refusal.hold_id = hold.id
    refusal.person_id = person.id if person else None
    return refusal
