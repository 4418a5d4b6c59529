"""What the page of a visit shows."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta

from server.core.changes import Actor
from server.core.changes.bookings import AskVisit
from server.core.next import waits_for
from server.core.promises import visits_kept
from server.core.refusals import Message, message
from server.core.visits import end_of, visit_for
from server.core.world import Activity, Booking, Crew
from server.core.world.hours import first_hour
from server.pages.kit import Form
from server.pages.push.brings import Brings, brings
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, in_a_sentence, reach
from server.words import Words, words

TRIED = "tried"
"""Stands for an id in a command that is only tried."""


@dataclass(frozen=True)
class TaskOfCrew:
    """A task that the visit could be for."""

    id: str
    name: str
    ready: datetime
    chosen: bool


@dataclass(frozen=True)
class Beside:
    """The notes beside the press that asks a crew to come."""

    brings: Brings


@dataclass(frozen=True)
class VisitPage:
    """The form that asks a crew to come, with what is asked already."""

    form: Form
    detail_id: str
    detail: str
    activity_id: str
    crew: str
    foreman: str
    tasks: tuple[TaskOfCrew, ...]
    start: datetime
    finish: datetime
    visit: Booking | None
    call: Reach | None
    may_waste: bool
    brings: Brings
    kept: str


def visit_page(opened: Opened, actor: Actor, activity: Activity, form: Form) -> VisitPage:
    """Asking the crew of an activity to come."""
    snapshot, schedule = opened.snapshot, opened.schedule
    crew = snapshot.crews.get(activity.crew_id or "")
    chosen = form.chosen("activity_ids") if form.fields else (activity.id,)
    tasks = tuple(
        TaskOfCrew(
            id=a.id,
            name=f"{a.name}, {snapshot.details[a.detail_id].name}",
            ready=schedule[a.id].early_start,
            chosen=a.id in chosen,
        )
        for a in snapshot.chain
        if crew and a.kind == "task" and a.crew_id == crew.id and not a.finished
    )
    start = _first_time(opened, activity)
    finish = end_of(snapshot, (activity,), start)
    visit = visit_for(snapshot, activity.id)
    brought = Brings((), "")
    if visit is None and crew is not None:
        asked = AskVisit(
            id=TRIED,
            activity_ids=chosen,
            start=Form(form.fields).moment("start", start) or start,
            finish=Form(form.fields).moment("finish", finish) or finish,
        )
        brought = brings(opened, actor, asked)
    return VisitPage(
        form=form,
        detail_id=activity.detail_id,
        detail=snapshot.details[activity.detail_id].name,
        activity_id=activity.id,
        crew=crew.name if crew else "",
        foreman=crew.foreman if crew else "",
        tasks=tasks,
        start=start,
        finish=finish,
        visit=visit,
        call=_call(opened, crew, activity, visit.start if visit else start) if crew else None,
        may_waste=_may_waste(opened, visit),
        brings=brought,
        kept=_kept(opened, crew) if crew else "",
    )


def kept_said(words: Words, came: int, due: int) -> str:
    """How often a crew came on the day it had promised; nothing where none is due yet."""
    return words.say(message("visits.kept", came=came, due=due)) if due else ""


def _kept(opened: Opened, crew: Crew) -> str:
    found = visits_kept(opened.snapshot, crew.id, opened.now.date())
    return kept_said(opened.words, found.came, found.promised)


def _may_waste(opened: Opened, visit: Booking | None) -> bool:
    """Whether a visit can be said to have been wasted: from its day on."""
    if visit is None or visit.state == "can't come":
        return False
    return visit.start.date() <= opened.now.date()


def _first_time(opened: Opened, activity: Activity) -> datetime:
    """The first working time of the crew, not today any more, at which the work is ready."""
    tomorrow = datetime.combine(opened.now.date() + timedelta(days=1), time(0))
    ready = max(opened.schedule[activity.id].early_start, tomorrow)
    return first_hour(opened.snapshot, activity, ready)


def _call(opened: Opened, crew: Crew, activity: Activity, start: datetime) -> Reach | None:
    """How the crew is reached, with a text in its own language."""
    its_words = words(crew.language)
    said = its_words.say(visit_sentence(opened, activity, start), now=opened.now)
    return reach(crew.phone, said[:1].upper() + said[1:])


def visit_sentence(opened: Opened, activity: Activity, start: datetime) -> Message:
    """When, what, where; ready or what it waits for; whether the parts are here."""
    snapshot, schedule = opened.snapshot, opened.schedule
    work = in_a_sentence(activity.name)
    detail = in_a_sentence(snapshot.details[activity.detail_id].name)
    waits = waits_for(snapshot, schedule, activity)
    if waits is not None and activity.started is None:
        return message("visits.sms_waits", when=start, work=work, detail=detail, what=waits.name)
    before = (snapshot.activities[d.before_id] for d in snapshot.before.get(activity.id, ()))
    parts = any(a.kind == "delivery" and a.finished is not None for a in before)
    return message("visits.sms_ready", when=start, work=work, detail=detail, parts=parts)
