"""What the page of a visit shows."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta

from server.core.changes import Actor
from server.core.changes.bookings import AskVisit
from server.core.grouping import one_visit
from server.core.next import waits_for
from server.core.promises import visits_kept
from server.core.refusals import Message, message
from server.core.visits import end_of, visit_of_crew
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
    """The notes beside the press that asks a crew to come; whether it is too short or too soon."""

    brings: Brings
    says: tuple[str, ...]


@dataclass(frozen=True)
class CrewWith:
    """Another crew that the work is done with, and what has become of asking it."""

    id: str
    name: str
    visit: Booking | None


@dataclass(frozen=True)
class OneVisitShown:
    """Short tasks that the crew could do in one coming."""

    tasks: tuple[TaskOfCrew, ...]
    start: datetime
    finish: datetime
    brings: Brings


@dataclass(frozen=True)
class VisitPage:
    """The form that asks a crew to come, with what is asked already."""

    form: Form
    detail_id: str
    detail: str
    activity_id: str
    crew: str
    crew_id: str
    foreman: str
    together: tuple[CrewWith, ...]
    one: OneVisitShown | None
    tasks: tuple[TaskOfCrew, ...]
    start: datetime
    finish: datetime
    visit: Booking | None
    call: Reach | None
    may_waste: bool
    brings: Brings
    says: tuple[str, ...]
    kept: str


def visit_page(
    opened: Opened, actor: Actor, activity: Activity, form: Form, crew_id: str
) -> VisitPage:
    """Asking a crew of an activity to come: the one named, else the first not asked yet."""
    snapshot = opened.snapshot
    crew = _crew(opened, activity, crew_id)
    visit = visit_of_crew(snapshot, activity.id, crew.id) if crew else None
    chosen = form.chosen("activity_ids") if form.fields else (activity.id,)
    if visit is not None:  # other forms of its page do not say what it is for
        chosen = form.chosen("activity_ids") or visit.activity_ids
    tasks = tuple(
        _task(opened, a, chosen=a.id in chosen)
        for a in snapshot.chain
        if crew and a.kind == "task" and crew.id in a.crew_ids and not a.finished
    )
    start = _first_time(opened, activity)
    finish = end_of(snapshot, (activity,), start, crew.id if crew else None)
    brought, says = Brings((), ""), tuple[str, ...]()
    if visit is None and crew is not None:
        asked = AskVisit(
            id=TRIED,
            activity_ids=chosen,
            start=Form(form.fields).moment("start", start) or start,
            finish=Form(form.fields).moment("finish", finish) or finish,
            crew_id=crew.id,
        )
        brought, says = brings(opened, actor, asked), too_little(opened, asked)
    return VisitPage(
        form=form,
        detail_id=activity.detail_id,
        detail=snapshot.details[activity.detail_id].name,
        activity_id=activity.id,
        crew=crew.name if crew else "",
        crew_id=crew.id if crew else "",
        foreman=crew.foreman if crew else "",
        together=tuple(
            CrewWith(id, snapshot.crews[id].name, visit_of_crew(snapshot, activity.id, id))
            for id in activity.crew_ids
            if crew and id != crew.id
        ),
        one=_one_visit(opened, actor, activity, crew) if crew and visit is None else None,
        tasks=tasks,
        start=start,
        finish=finish,
        visit=visit,
        call=_call(opened, crew, activity, visit.start if visit else start) if crew else None,
        may_waste=_may_waste(opened, visit),
        brings=brought,
        says=says,
        kept=_kept(opened, crew) if crew else "",
    )


def too_little(opened: Opened, asked: AskVisit) -> tuple[str, ...]:
    """That a visit is shorter than its crew comes for, or sooner than it wants to know."""
    snapshot, now = opened.snapshot, opened.now
    crew = snapshot.crews.get(asked.crew_id or "")
    if crew is None:
        return ()
    said: list[Message] = []
    span = int((asked.finish - asked.start).total_seconds()) // 60
    if 0 < span < crew.least_visit:
        least = crew.least_visit
        said.append(message("visits.too_short", crew=crew.name, least=least, span=span))
    if now < asked.start < now + timedelta(minutes=crew.notice):
        said.append(message("visits.too_late", crew=crew.name, notice=crew.notice))
    return tuple(opened.words.say(one, now=now) for one in said)


def _crew(opened: Opened, activity: Activity, crew_id: str) -> Crew | None:
    """The crew named; else the first that is not asked yet, else the first."""
    crews = opened.snapshot.crews
    if crew_id in activity.crew_ids:
        return crews[crew_id]
    asked = [visit_of_crew(opened.snapshot, activity.id, id) for id in activity.crew_ids]
    free = (id for id, visit in zip(activity.crew_ids, asked, strict=True) if visit is None)
    first = next(free, next(iter(activity.crew_ids), ""))
    return crews.get(first)


def _task(opened: Opened, activity: Activity, *, chosen: bool) -> TaskOfCrew:
    return TaskOfCrew(
        id=activity.id,
        name=f"{activity.name}, {opened.snapshot.details[activity.detail_id].name}",
        ready=opened.schedule[activity.id].early_start,
        chosen=chosen,
    )


def _one_visit(
    opened: Opened, actor: Actor, activity: Activity, crew: Crew
) -> OneVisitShown | None:
    """The short tasks that could be done with this one, what asking for all of them brings too."""
    found = one_visit(opened.snapshot, opened.schedule, crew)
    if found is None or activity not in found.tasks:
        return None
    asked = AskVisit(
        id=TRIED,
        activity_ids=tuple(a.id for a in found.tasks),
        start=found.start,
        finish=found.finish,
        crew_id=crew.id,
    )
    tasks = tuple(_task(opened, a, chosen=True) for a in found.tasks)
    return OneVisitShown(tasks, found.start, found.finish, brings(opened, actor, asked))


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
