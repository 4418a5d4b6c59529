"""What the fold on a forecast date shows."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from server.core.next import mover_of, waits_for
from server.core.refusals import message
from server.core.schedule import Explanation, explain
from server.core.world import Activity
from server.pages.push.choices import Choice, choices
from server.pages.shared.opened import Opened
from server.pages.why.saying import Saying
from server.people.viewer import Viewer


@dataclass(frozen=True)
class BoundRow:
    """One bound: when it lets the work start, what it is, whether it is the one that counts."""

    at: datetime
    when: str
    said: str
    sets: bool


@dataclass(frozen=True)
class WhyPage:
    """Why one activity is when it is. `choices` are for who may move it."""

    detail_id: str
    detail: str
    sheet: str
    activity_id: str
    name: str
    sentence: str
    earlier: str
    spare: str
    hangs_on: str
    bounds: tuple[BoundRow, ...]
    choices: tuple[Choice, ...]
    push: str


def why_page(opened: Opened, viewer: Viewer, activity: Activity) -> WhyPage:
    """The bounds on an activity's date in words, and the presses that would move it."""
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    schedule = opened.schedule
    why = explain(schedule.plan.network, schedule, activity.id)
    saying = Saying(snapshot, schedule, activity)
    earlier, spare = saying.earlier(why), saying.spare()
    sentence = words.say(saying.sentence(why), now=now)
    detail = snapshot.details[activity.detail_id]
    may_move = viewer.actor.role == "super" and viewer.actor.confirmed
    open_still = activity.id not in schedule.done
    return WhyPage(
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        activity_id=activity.id,
        name=activity.name,
        sentence=sentence[:1].upper() + sentence[1:],
        earlier=words.say(earlier, now=now) if earlier else "",
        spare=words.say(spare, now=now) if spare else "",
        hangs_on=_hangs_on(opened, saying),
        bounds=tuple(_rows(opened, saying, why)) if open_still else (),
        choices=choices(opened, schedule, activity) if may_move and open_still else (),
        push=f"/d/{detail.id}/push/{activity.id}" if may_move and open_still else "",
    )


def _rows(opened: Opened, saying: Saying, why: Explanation) -> Iterator[BoundRow]:
    """The bounds, the one that counts first; that it is not yet later than now goes unsaid."""
    words, now = opened.words, opened.now
    for bound in why.bounds:
        if bound.kind in ("status", "start") and bound is not why.driver:
            continue
        said = words.say(saying.bound(bound), now=now)
        when = words.when(bound.start, now)
        yield BoundRow(bound.start, when, said[:1].upper() + said[1:], bound is why.driver)


def _hangs_on(opened: Opened, saying: Saying) -> str:
    """The first open thing on the way to it, and who can move that."""
    snapshot = opened.snapshot
    first = waits_for(snapshot, saying.schedule, saying.activity)
    if first is None:
        return ""
    crew_id, person_id = mover_of(snapshot, first, saying.schedule)
    crew, person = snapshot.crews.get(crew_id or ""), snapshot.people.get(person_id or "")
    whose = person.name if person else crew.name if crew else ""
    said = message("why.hangs_on", work=first.name, whose=whose) if whose else None
    return opened.words.say(said or message("why.hangs_on_time", work=first.name))
