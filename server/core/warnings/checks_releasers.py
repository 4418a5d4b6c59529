"""Warnings of who says OK to cover: nobody, and whoever did it."""

from collections.abc import Iterable, Iterator

from server.core.changes.held import releaser_of, super_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import hold_state, live_attempts, looked_at, open_parts
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about, with_check
from server.core.world import Activity, Attempt, HoldPoint, Person, Snapshot

NOBODY = "nobody to release"
NOBODY_TITLE = message("warning.nobody_to_release.title")
OWN = "released by the one who did it"
OWN_TITLE = message("warning.own_release.title")


@warns(NOBODY, title=NOBODY_TITLE, bad="in the way", family="check")
def nobody_to_release(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """The one who says OK to cover is not there any more, or cannot be reached when it is time.

    A check without a named person is the super's.
    """
    for hold, activity in _open_checks(snapshot):
        person = releaser_of(snapshot, hold)
        sentence = _missing(snapshot, schedule, hold, activity, person)
        if sentence is None:
            continue
        yield about(
            snapshot,
            NOBODY,
            sentence,
            (activity,),
            subject=(hold.id,),
            facts=(sentence.id, hold.releases_id),
            at=schedule[activity.id].early_start,
            layer_ids=hold.layer_ids,
            hold_id=hold.id,
            who=(None, _super_id(snapshot)),
            mends=list(_others(snapshot, hold, activity)),
        )


def _missing(
    snapshot: Snapshot,
    schedule: Schedule,
    hold: HoldPoint,
    activity: Activity,
    person: Person | None,
) -> Message | None:
    """What is wrong with the one who says OK; None where nothing is."""
    if person is None:
        return message("warning.nobody_to_release.none", check=activity.name)
    if person.ended is not None:
        return message("warning.nobody_to_release.gone", check=activity.name, whose=person.name)
    if person.role == "super" or hold_state(snapshot, hold, schedule) == "not yet":
        return None
    given = any(g.person_id == person.id for g in snapshot.given.values())
    if not given:
        return message("warning.nobody_to_release.hidden", check=activity.name, whose=person.name)
    if not person.phone and not person.email:
        return message("warning.nobody_to_release.silent", check=activity.name, whose=person.name)
    return None


@warns(OWN, title=OWN_TITLE, bad="in the way", family="check")
def own_release(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Whoever says OK to cover is of a crew that does or marks what is looked at; or was, in fact.

    Not where the check allows that, nor at a look from outside. Once all that it let start is done,
    it is history.
    """
    for hold, activity in _checks(snapshot):
        if hold.own_mark_ok or hold.authority:
            continue
        attempt = _own_decided(snapshot, hold)
        person = snapshot.people[attempt.decided_by_id or ""] if attempt else None
        if person is None and open_parts(snapshot, hold) != frozenset():
            person = releaser_of(snapshot, hold)
            if person is None or person.crew_id not in doers(snapshot, hold):
                continue
        if person is None:
            continue
        label = message("warning.open_check")
        yield about(
            snapshot,
            OWN,
            _own_said(activity, person, attempt),
            (activity, *looked_at(snapshot, hold)),
            subject=(hold.id,),
            facts=(attempt and attempt.id, person.id),
            at=attempt.decided_at if attempt else schedule[activity.id].early_start,
            layer_ids=hold.layer_ids,
            hold_id=hold.id,
            who=(None, _super_id(snapshot)),
            mends=[Mend(label, goto_hold_id=hold.id)]
            if attempt
            else list(_others(snapshot, hold, activity)),
        )


def _own_said(activity: Activity, person: Person, attempt: Attempt | None) -> Message:
    if attempt is None:
        return message("warning.own_release.planned", check=activity.name, whose=person.name)
    if attempt.marked_by_id == person.id:
        return message("warning.own_release.marked", check=activity.name, whose=person.name)
    return message("warning.own_release.done", check=activity.name, whose=person.name)


def doers(snapshot: Snapshot, hold: HoldPoint) -> frozenset[str]:
    """The crews that do what a check looks at, or mark it; without layers, what it comes after."""
    tasks = looked_at(snapshot, hold) or tuple(
        snapshot.activities[d.before_id] for d in snapshot.before.get(hold.activity_id, ())
    )
    crews = {id for a in tasks if a.kind == "task" for id in (a.crew_id, *a.with_crew_ids)}
    return frozenset(id for id in (*crews, hold.marks_crew_id) if id)


def _own_decided(snapshot: Snapshot, hold: HoldPoint) -> Attempt | None:
    """The last release that counts, if whoever gave it had marked it or done the work."""
    released = [a for a in live_attempts(snapshot, hold) if a.state == "released"]
    if not released or released[-1].decided_by_id not in snapshot.people:
        return None
    held = [snapshot.activities[d.after_id] for d in snapshot.after.get(hold.activity_id, ())]
    if held and all(a.finished is not None or a.ended is not None for a in held):
        return None
    last = released[-1]
    person = snapshot.people[last.decided_by_id or ""]
    marker = snapshot.people.get(last.marked_by_id)
    crews = doers(snapshot, hold) | {marker.crew_id if marker else None}
    own = person.id == last.marked_by_id or (person.crew_id and person.crew_id in crews)
    return last if own else None


def _others(snapshot: Snapshot, hold: HoldPoint, activity: Activity) -> Iterator[Mend]:
    """The super, then those who can be reached, look at this house and did not do the work."""
    if activity.finished is not None:
        yield Mend(message("warning.open_check"), goto_hold_id=hold.id)
        return
    crews = doers(snapshot, hold)
    boss = super_of(snapshot)
    # what only the super can mark, the super cannot also say OK to
    if boss is not None and boss.crew_id not in crews and (hold.marks_crew_id or hold.own_mark_ok):
        yield _says(snapshot, hold, boss, None)
    given = {g.person_id for g in snapshot.given.values()}
    for person in snapshot.people.values():
        usual = person.role == "rep" and person.id in given and person.ended is None
        if usual and (person.phone or person.email) and person.id != hold.releases_id:
            yield _says(snapshot, hold, person, person.id)


def _says(snapshot: Snapshot, hold: HoldPoint, person: Person, id: str | None) -> Mend:
    label = message("warning.says_ok", whose=person.name)
    return Mend(label, (with_check(snapshot, hold, releases_id=id),))


def _open_checks(snapshot: Snapshot) -> Iterator[tuple[HoldPoint, Activity]]:
    for hold, activity in _checks(snapshot):
        if open_parts(snapshot, hold) != frozenset():
            yield hold, activity


def _checks(snapshot: Snapshot) -> Iterator[tuple[HoldPoint, Activity]]:
    """The checks before cover in the order of the chain, without invited looks."""
    for activity in snapshot.chain:
        hold = snapshot.hold_of.get(activity.id)
        if hold is not None and not hold.witness:
            yield hold, activity


def _super_id(snapshot: Snapshot) -> str | None:
    person = super_of(snapshot)
    return person.id if person else None
