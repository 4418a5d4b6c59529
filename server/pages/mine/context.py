"""What a crew sees of its own, over all houses it was given."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from markupsafe import Markup

from server.core.next import Going, who_goes_next
from server.core.refusals import Message, message
from server.core.states import hold_state, is_released, left_out
from server.core.world import Activity, Booking, Crew, Person
from server.drawing.pegs import peg_mark
from server.pages.kit import Form
from server.pages.shared.layers import PEGS
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, reach
from server.pages.shared.receipts import Receipt, receipts
from server.words import languages
from server.words import words as words_of

RECEIPTS = timedelta(days=60)


@dataclass(frozen=True)
class WorkRow:
    """One task of the crew: where, when, whether it is ready, and why not."""

    href: str
    name: str
    place: str
    at: datetime
    when: str
    stands: str
    parts: str
    clear: str
    ready: bool
    call: Reach | None


@dataclass(frozen=True)
class VisitAsked:
    """A visit that the crew is asked for, and its last answer."""

    id: str
    project_id: str
    when: str
    works: str
    place: str
    state: str
    answered: str


@dataclass(frozen=True)
class CheckAsked:
    """A check that the crew marks ready to look at."""

    href: str
    name: str
    place: str
    stands: str
    peg: Markup


@dataclass(frozen=True)
class MinePage:
    """A crew's page."""

    crew: str
    visits: tuple[VisitAsked, ...]
    on_now: tuple[WorkRow, ...]
    on_next: tuple[WorkRow, ...]
    waiting: tuple[WorkRow, ...]
    checks: tuple[CheckAsked, ...]
    receipts: tuple[Receipt, ...]
    units: str
    languages: tuple[str, ...]
    form: Form
    refused_id: str


def mine_page(opened: tuple[Opened, ...], person: Person, form: Form, refused_id: str) -> MinePage:
    """Everything of one crew."""
    crew_id = person.crew_id or ""
    rows = [(one, g) for one in opened for g in _going(one, crew_id)]
    tasks = [(one, g) for one, g in rows if g.activity.kind == "task"]
    crew = opened[0].snapshot.crews.get(crew_id) if opened else None
    return MinePage(
        crew=crew.name if crew else "",
        visits=tuple(v for one in opened for v in _visits(one, crew_id)),
        on_now=tuple(_work(one, g) for one, g in tasks if g.standing == "under way"),
        on_next=tuple(_work(one, g) for one, g in tasks if g.standing in ("ready", "soon")),
        waiting=tuple(_work(one, g) for one, g in tasks if g.standing == "waits"),
        checks=tuple(c for one, g in rows if (c := _check(one, g, crew_id)) is not None),
        receipts=tuple(
            receipt
            for one in opened
            for hold, receipt in receipts(one, one.now - RECEIPTS)
            if hold.marks_crew_id == crew_id
        ),
        units=form.typed("units", person.units),
        languages=languages(),
        form=form,
        refused_id=refused_id,
    )


def _going(opened: Opened, crew_id: str) -> tuple[Going, ...]:
    return who_goes_next(opened.snapshot, opened.schedule, opened.status, crew_id=crew_id)


def _work(opened: Opened, going: Going) -> WorkRow:
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    activity = going.activity
    waits = snapshot.activities.get(going.waits_for_id or "")
    call, stands = None, message("mine.from", when=going.when)
    if going.standing == "under way":
        stands = message("mine.under_way")
    elif going.standing == "ready":
        stands = message("mine.ready")
    elif waits is not None:
        who = snapshot.people.get(going.person_id or "")
        crew = snapshot.crews.get(going.crew_id or "")
        name = who.name if who else crew.name if crew else ""
        stands = message("mine.waits_for_it", what=waits.name)
        if name:
            stands = message("mine.waits_for", what=waits.name, whose=name)
        call = _call(opened, activity, waits, who or crew)
    return WorkRow(
        href=f"/d/{activity.detail_id}/a/{activity.id}",
        name=activity.name,
        place=_place(opened, activity),
        at=going.when,
        when=words.when(going.when, now),
        stands=words.say(stands, now=now),
        parts=_parts(opened, activity),
        clear=_clear(opened, going),
        ready=going.standing in ("ready", "under way"),
        call=call,
    )


def _call(
    opened: Opened, activity: Activity, waits: Activity, whose: Person | Crew | None
) -> Reach | None:
    """How to reach whoever moves what the work waits for; nobody where that is the crew itself."""
    if whose is None or whose.id == activity.crew_id:
        return None
    its_words = words_of(whose.language)
    ask = message("mine.sms_waits", work=activity.name, what=waits.name)
    return reach(whose.phone, its_words.say(ask, now=opened.now))


def _clear(opened: Opened, going: Going) -> str:
    """Whether others are asked to the same place on the day, more than it has room for."""
    snapshot, activity = opened.snapshot, going.activity
    place = snapshot.places.get(_place_id(opened, activity))
    if place is None or going.standing == "under way":
        return ""
    own = {activity.crew_id, *activity.with_crew_ids}
    others = {
        b.crew_id
        for b in snapshot.bookings.values()
        if b.ended is None and b.state != "can't come" and b.crew_id not in own
        if b.start.date() <= going.when.date() <= b.finish.date()
        if any(_place_id(opened, snapshot.activities[id]) == place.id for id in b.activity_ids)
    }
    if len(others) < place.room_for:
        return opened.words.say(message("mine.place_clear"))
    crews = tuple(snapshot.crews[id].name for id in sorted(others))
    return opened.words.say(message("mine.place_taken", crews=crews))


def _place_id(opened: Opened, activity: Activity) -> str:
    return activity.place_id or opened.snapshot.details[activity.detail_id].place_id or ""


def _place(opened: Opened, activity: Activity) -> str:
    detail = opened.snapshot.details[activity.detail_id]
    place = opened.snapshot.places.get(_place_id(opened, activity))
    names = (detail.name, place.name if place else "", opened.snapshot.project.name)
    return ", ".join(dict.fromkeys(name for name in names if name))


def _parts(opened: Opened, activity: Activity) -> str:
    """Whether what it needs brought is here, and counted."""
    snapshot = opened.snapshot
    before = (snapshot.activities[d.before_id] for d in snapshot.before.get(activity.id, ()))
    brought = [a for a in before if a.kind == "delivery" and a.ended is None]
    if not brought:
        return ""
    if any(a.finished is None for a in brought):
        return opened.words.say(message("mine.parts_not_here"))
    if any(a.counted is None for a in brought):
        return opened.words.say(message("mine.parts_not_counted"))
    return opened.words.say(message("mine.parts_here"))


def _visits(opened: Opened, crew_id: str) -> Iterator[VisitAsked]:
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    wanted = [
        b
        for b in snapshot.bookings.values()
        if b.crew_id == crew_id and b.ended is None and b.finish >= now
    ]
    for visit in sorted(wanted, key=lambda b: b.start):
        works = [snapshot.activities[id] for id in visit.activity_ids]
        if all(a.finished for a in works):
            continue
        yield VisitAsked(
            id=visit.id,
            project_id=opened.project_id,
            when=words.when(visit.start, now),
            works=words.listed([a.name for a in works]),
            place=_place(opened, works[0]),
            state=visit.state,
            answered=words.say(_answered(visit), now=now),
        )


def _answered(visit: Booking) -> Message:
    if visit.state == "asked":
        return message("mine.no_answer")
    if visit.state == "coming":
        return message("mine.you_come")
    if visit.other_day is not None:
        return message("mine.you_offer", when=visit.other_day)
    return message("mine.you_cannot")


def _check(opened: Opened, going: Going, crew_id: str) -> CheckAsked | None:
    snapshot = opened.snapshot
    hold = snapshot.hold_of.get(going.activity.id)
    if hold is None or hold.marks_crew_id != crew_id:
        return None
    state, left = hold_state(snapshot, hold, opened.schedule), left_out(snapshot, hold)
    if state == "not yet" or (is_released(snapshot, hold) and not left):
        return None
    stands = message("build_up.state", state=state)
    if left:
        numbers = tuple(f"{hold.part_name} {no}" for no in left)
        stands = message("mine.left_out", state=state, left=numbers)
    return CheckAsked(
        href=f"/h/{hold.id}",
        name=going.activity.name,
        place=_place(opened, going.activity),
        stands=opened.words.say(stands),
        peg=peg_mark(PEGS[state]),
    )
