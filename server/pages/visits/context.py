"""What the pages of visits and of promised dates show."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from server.core.refusals import message
from server.core.world import Activity, Booking
from server.core.world.hours import first_hour
from server.pages.kit import Form
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, reach


@dataclass(frozen=True)
class TaskOfCrew:
    """A task that the visit could be for."""

    id: str
    name: str
    ready: datetime
    chosen: bool


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


@dataclass(frozen=True)
class PromiseRow:
    """An activity with its forecast and its promised finish."""

    name: str
    forecast: datetime
    promised: datetime | None


@dataclass(frozen=True)
class PromisePage:
    """Forecast dates beside the promised ones, to be agreed."""

    form: Form
    detail_id: str
    detail: str
    round: int
    rows: tuple[PromiseRow, ...]


def visit_page(opened: Opened, activity: Activity, form: Form) -> VisitPage:
    """Asking the crew of an activity to come."""
    snapshot, schedule = opened.snapshot, opened.schedule
    crew = snapshot.crews.get(activity.crew_id or "")
    tasks = tuple(
        TaskOfCrew(
            id=a.id,
            name=f"{a.name}, {snapshot.details[a.detail_id].name}",
            ready=schedule[a.id].early_start,
            chosen=a.id in (form.chosen("activity_ids") or (activity.id,)),
        )
        for a in snapshot.chain
        if crew and a.kind == "task" and a.crew_id == crew.id and not a.finished
    )
    earliest = max(schedule[activity.id].early_start, opened.now + timedelta(minutes=1))
    if earliest.date() == opened.now.date():
        earliest = datetime.combine(earliest.date() + timedelta(days=1), datetime.min.time())
    start = first_hour(snapshot, activity, earliest)
    span = max(timedelta(minutes=activity.work), timedelta(minutes=crew.least_visit if crew else 0))
    visit = next(
        (b for b in snapshot.bookings.values() if activity.id in b.activity_ids and not b.ended),
        None,
    )
    ask = message(
        "visits.sms",
        when=visit.start if visit else start,
        work=activity.name,
        detail=snapshot.details[activity.detail_id].name,
        ready=schedule[activity.id].ready,
    )
    return VisitPage(
        form=form,
        detail_id=activity.detail_id,
        detail=snapshot.details[activity.detail_id].name,
        activity_id=activity.id,
        crew=crew.name if crew else "",
        foreman=crew.foreman if crew else "",
        tasks=tasks,
        start=start,
        finish=start + min(span, timedelta(hours=8)),
        visit=visit,
        call=reach(crew.phone, opened.words.say(ask, now=opened.now)) if crew else None,
    )


def promise_page(opened: Opened, form: Form) -> PromisePage:
    """The dates of a detail, forecast and promised."""
    snapshot, schedule = opened.snapshot, opened.schedule
    agreed = [a for a in snapshot.agreed.values() if a.detail_id == opened.detail_id]
    newest = max((a.round for a in agreed), default=0)
    promised = {a.activity_id: a.finish for a in agreed if a.round == newest}
    return PromisePage(
        form=form,
        detail_id=opened.detail_id,
        detail=snapshot.details[opened.detail_id].name,
        round=newest,
        rows=tuple(
            PromiseRow(a.name, schedule[a.id].early_finish, promised.get(a.id))
            for a in snapshot.chain_of(opened.detail_id)
        ),
    )
