"""Warnings of cover: what is about to be hidden, and what was hidden unseen."""

from collections.abc import Iterable
from datetime import timedelta

from server.core.changes.held import part_names, releaser_of
from server.core.cover import LastLook, covering, enough_time, looks
from server.core.next import mover_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import (
    hidden_parts,
    hold_state,
    is_released,
    layer_state,
    left_out,
    live_attempts,
    open_parts,
)
from server.core.warnings.base import Bad, Mend, Warning, identity, warns
from server.core.world import Activity, HoldPoint, Snapshot

ABOUT = "about to be hidden"
ABOUT_TITLE = message("warning.about_to_be_hidden.title")
HIDDEN = "hidden open"
HIDDEN_TITLE = message("warning.hidden_open.title")


@warns(ABOUT, title=ABOUT_TITLE, bad="lost work", family="cover")
def about_to_be_hidden(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Little time is left to look at what a check looks at, before it is covered.

    Only of checks that can be made now, and of parts left out; where what is looked at is not in
    yet, a visit that comes too early is told as that. What is being covered with nothing of it OK
    is told as hidden.
    """
    for hold in _open(snapshot):
        state = hold_state(snapshot, hold, schedule)
        if state in ("not yet", "rejected"):
            continue
        coming = looks(snapshot, schedule, hold)
        covers = coming and coming[0].why == "under way" and not is_released(snapshot, hold)
        if not coming or covers:
            continue
        graded = _graded(snapshot, schedule, hold, state, coming)
        if graded is not None:
            yield _about(snapshot, schedule, hold, state, *graded)


def _graded(
    snapshot: Snapshot,
    schedule: Schedule,
    hold: HoldPoint,
    state: str,
    coming: tuple[LastLook, ...],
) -> tuple[LastLook, Bad] | None:
    """How bad it is, and the cover that makes it so.

    Lost work once somebody is asked or it is promised, and the time left does not do, or it is
    marked and the one who looks usually takes longer. Watch at twice the time, and where only the
    forecast says when: behind an open check nobody may start. What is marked is watched anyhow.
    """
    set_for = next((look for look in coming if look.why != "forecast"), None)
    if set_for is not None:
        answer = timedelta(0)
        if state == "marked" and (person := releaser_of(snapshot, hold)):
            answer = timedelta(days=person.answers_in)
        late = schedule.status + answer > set_for.at
        if late or not enough_time(snapshot, schedule, hold, set_for.at):
            return set_for, "lost work"
    first = set_for or coming[0] if state == "marked" else coming[0]
    if state == "marked" or not enough_time(snapshot, schedule, hold, first.at, times=2):
        return first, "watch"
    return None


def _about(
    snapshot: Snapshot,
    schedule: Schedule,
    hold: HoldPoint,
    state: str,
    look: LastLook,
    bad: Bad,
) -> Warning:
    activity = snapshot.activities[hold.activity_id]
    crew_id, person_id = mover_of(snapshot, activity, schedule)
    attempts = live_attempts(snapshot, hold)
    ids = (activity.id, look.work.id)
    # a forecast slides with the clock and is no fact; a visit and a promise are
    when = None if look.why in ("forecast", "under way") else look.at
    facts = (hold.id, attempts[-1].id if attempts else "", state, look.work.id, look.why, when, bad)
    return Warning(
        rule=ABOUT,
        bad=bad,
        title=ABOUT_TITLE,
        sentence=message(
            "warning.about_to_be_hidden.said",
            cover=_cover(look),
            stands=_stands(snapshot, hold, state),
        ),
        subject=(hold.id,),
        identity=identity(ABOUT, *facts),
        at=look.at,
        detail_id=activity.detail_id,
        activity_ids=ids,
        layer_ids=_layers(snapshot, look.work, hold),
        place_ids=places_of(snapshot, ids),
        hold_id=hold.id,
        crew_id=crew_id,
        person_id=person_id,
        mends=(Mend(message("warning.open_check"), goto_hold_id=hold.id),),
    )


def _cover(look: LastLook) -> Message:
    """By what it is covered, and when."""
    if look.why == "under way":
        return message("warning.cover.under_way", work=look.work.name)
    if look.why == "forecast":
        return message("warning.cover.forecast", work=look.work.name, at=look.at)
    return message("warning.cover.comes", work=look.work.name, at=look.at)


def _stands(snapshot: Snapshot, hold: HoldPoint, state: str) -> Message:
    """How the check stands that looks at it."""
    check = snapshot.activities[hold.activity_id].name
    person = releaser_of(snapshot, hold)
    if state == "marked":
        whose = person.name if person else ""
        return message("warning.stands.marked", check=check, whose=whose)
    if state == "look again":
        by = live_attempts(snapshot, hold)[-1].again_by
        return message("warning.stands.again", check=check, by=by)
    if left := left_out(snapshot, hold):
        parts = part_names(hold, frozenset(left))
        return message("warning.stands.left_out", check=check, parts=parts)
    return message("warning.stands.to_check", check=check)


@warns(HIDDEN, title=HIDDEN_TITLE, bad="lost work", family="cover")
def hidden_open(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Covered in fact while a check on it was not OK, all or some parts of it.

    Until it is opened up, or its releaser says OK in writing after all: at the check, with a
    reason.
    """
    for hold in _open(snapshot):
        tasks = tuple(a for a in covering(snapshot, hold) if _is_hidden(snapshot, a, hold))
        if not tasks:
            continue
        activity = snapshot.activities[hold.activity_id]
        person = releaser_of(snapshot, hold)
        parts = open_parts(snapshot, hold)
        ids = (*(a.id for a in tasks), activity.id)
        names = tuple(a.name for a in tasks)
        whose = person.name if person else ""
        sentence = message("warning.hidden_open.said", work=names, check=activity.name, whose=whose)
        if parts:
            sentence = message(
                "warning.hidden_open.parts",
                work=names,
                check=activity.name,
                parts=part_names(hold, parts),
                whose=whose,
            )
        yield Warning(
            rule=HIDDEN,
            bad="lost work",
            title=HIDDEN_TITLE,
            sentence=sentence,
            subject=(hold.id,),
            identity=identity(
                HIDDEN, hold.id, sorted(parts or ()), *((a.id, a.finished) for a in tasks)
            ),
            at=min(a.finished or a.started or schedule.status for a in tasks),
            detail_id=activity.detail_id,
            activity_ids=ids,
            layer_ids=tuple(dict.fromkeys(id for a in tasks for id in _layers(snapshot, a, hold))),
            place_ids=places_of(snapshot, ids),
            hold_id=hold.id,
            person_id=person.id if person else None,
            mends=(Mend(message("warning.open_check"), goto_hold_id=hold.id),),
        )


def _open(snapshot: Snapshot) -> list[HoldPoint]:
    """The checks of which something is not OK to cover, in the order of the chain."""
    holds = (snapshot.hold_of.get(a.id) for a in snapshot.chain)
    return [h for h in holds if h and not h.witness and open_parts(snapshot, h) != frozenset()]


def _is_hidden(snapshot: Snapshot, task: Activity, hold: HoldPoint) -> bool:
    """Whether a task has covered what is not OK, or is at it while nothing of it is."""
    if task.finished is None:
        return task.started is not None and not is_released(snapshot, hold)
    parts = hidden_parts(snapshot, task, hold)
    for layer_id in _layers(snapshot, task, hold):
        layer = snapshot.layers[layer_id]
        numbers = [no for no in parts or () if no <= layer.parts]
        states = [layer_state(snapshot, layer, no) for no in numbers]
        if "covered" in (states or [layer_state(snapshot, layer)]):
            return True
    return False


def _layers(snapshot: Snapshot, task: Activity, hold: HoldPoint) -> tuple[str, ...]:
    """The layers of a check that a task covers."""
    effects = snapshot.effects_of.get(task.id, ())
    return tuple(e.layer_id for e in effects if e.verb == "covers" and e.layer_id in hold.layer_ids)
