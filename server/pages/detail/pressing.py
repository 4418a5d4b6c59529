"""The next thing on a detail, with its one big press by the viewer's rights."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from server.core.refusals import Message, message
from server.core.rights import marks, releases
from server.core.states import activity_state, hold_state
from server.core.world import Activity, HoldPoint
from server.pages.detail.looking import Looking
from server.pages.shared.coming import coming

NEAR = timedelta(days=1)


@dataclass(frozen=True)
class BigPress:
    """A link (`href`) or a press that records something (`action`)."""

    label: str
    small: str
    activity_id: str
    href: str = ""
    action: str = ""


def big_press(looking: Looking) -> BigPress | None:
    """What this person can do next here; None where nothing is theirs to do."""
    if not looking.actor.confirmed:
        return None
    return next(_presses(looking), None)


def _presses(looking: Looking) -> Iterator[BigPress]:
    yield from (_look(looking, hold) for hold in looking.holds if _to_look_at(looking, hold))
    yield from (_answer(looking, a) for a in looking.chain if _owes(looking, a))
    yield from (_done(looking, a) for a in looking.chain if _under_way(looking, a))
    yield from (_mark(looking, hold) for hold in looking.holds if _to_mark(looking, hold))
    tasks = (a for a in looking.chain if a.kind == "task" and a.started is a.finished is None)
    soon = sorted(tasks, key=lambda a: (looking.schedule[a.id].early_start, a.order))
    yield from (_start(looking, a) for a in soon if _to_start(looking, a))


def _to_look_at(looking: Looking, hold: HoldPoint) -> bool:
    theirs = releases(looking.snapshot, looking.actor, hold)
    return theirs and hold_state(looking.snapshot, hold, looking.schedule) == "marked"


def _look(looking: Looking, hold: HoldPoint) -> BigPress:
    snapshot, activity = looking.snapshot, looking.snapshot.activities[hold.activity_id]
    attempt = snapshot.attempts_of[hold.id][-1]
    person = snapshot.people.get(attempt.marked_by_id)
    crew = snapshot.crews.get((person.crew_id if person else None) or "")
    small = message(
        "detail.marked_with",
        who=crew.name if crew else person.name if person else "",
        when=looking.when(attempt.marked_at),
        numbers=len(snapshot.measurements_of.get(attempt.id, ())),
        photos=sum(p.attempt_id == attempt.id for p in snapshot.photos.values()),
    )
    label = message("detail.look_at", check=activity.name)
    return _link(looking, activity, f"/h/{hold.id}", label, small)


def _owes(looking: Looking, activity: Activity) -> bool:
    return (
        activity.kind == "decision"
        and activity.finished is None
        and activity.person_id == looking.actor.person_id
    )


def _answer(looking: Looking, activity: Activity) -> BigPress:
    by = looking.when(looking.schedule[activity.id].late_finish.date())
    label, small = message("detail.answer", what=activity.name), message("detail.answer_by", by=by)
    return _link(looking, activity, _page(looking, activity), label, small)


def _under_way(looking: Looking, activity: Activity) -> bool:
    theirs = looking.own(activity) or looking.actor.role == "super"
    return theirs and activity.kind == "task" and activity_state(
        looking.snapshot, looking.schedule, activity
    ) == "under way"  # fmt: skip


def _done(looking: Looking, activity: Activity) -> BigPress:
    assert activity.started is not None
    small = message(
        "detail.started_by", crew=looking.crew(activity), when=looking.when(activity.started)
    )
    return _act(looking, activity, "finish", message("detail.done", work=activity.name), small)


def _to_mark(looking: Looking, hold: HoldPoint) -> bool:
    theirs = marks(looking.snapshot, looking.actor, hold)
    return theirs and hold_state(looking.snapshot, hold, looking.schedule) in (
        "to check",
        "look again",
    )


def _mark(looking: Looking, hold: HoldPoint) -> BigPress:
    activity = looking.snapshot.activities[hold.activity_id]
    asks = len(looking.snapshot.asks_of.get(hold.id, ()))
    small = message("detail.asks", numbers=asks, photos=hold.photos)
    label = message("detail.mark", check=activity.name)
    return _link(looking, activity, f"/h/{hold.id}", label, small)


def _to_start(looking: Looking, activity: Activity) -> bool:
    """Ready, or due by tomorrow: a crew that stands at the wall is told what holds it."""
    ready = activity_state(looking.snapshot, looking.schedule, activity) == "ready"
    if looking.actor.role == "super":
        return ready
    due = coming(looking.snapshot, looking.schedule, activity).at - looking.now < NEAR
    return looking.own(activity) and (ready or due)


def _start(looking: Looking, activity: Activity) -> BigPress:
    visit = coming(looking.snapshot, looking.schedule, activity)
    small = message(
        "detail.start_who",
        crew=looking.crew(activity),
        visit=visit.state,
        when=looking.when(visit.shown),
    )
    return _act(looking, activity, "start", message("detail.start", work=activity.name), small)


def _page(looking: Looking, activity: Activity) -> str:
    return f"/d/{looking.detail.id}/a/{activity.id}"


def _link(
    looking: Looking, activity: Activity, href: str, label: Message, small: Message
) -> BigPress:
    return BigPress(looking.say(label), looking.say(small), activity.id, href=href)


def _act(
    looking: Looking, activity: Activity, verb: str, label: Message, small: Message
) -> BigPress:
    action = f"{_page(looking, activity)}/{verb}"
    return BigPress(looking.say(label), looking.say(small), activity.id, action=action)
