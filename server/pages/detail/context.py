"""What the page of a detail shows, built from the snapshot for one viewer."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from server.core.promises import last_of
from server.core.refusals import message
from server.core.states import hold_state, left_out
from server.core.warnings import Warning, find
from server.core.world import Booking, HoldPoint
from server.drawing.pegs import peg_mark
from server.pages.detail.heading import Countdown, countdown_of, finish_said
from server.pages.detail.looking import Looking
from server.pages.detail.order_said import ABOUT_ORDER, SideOrder, about_order, order_said
from server.pages.detail.pressing import BigPress, big_press
from server.pages.shared.buildup import SideShown, next_in, sides_shown
from server.pages.shared.layers import PEGS
from server.pages.shared.notes import NoteShown, leaders, notes_shown
from server.pages.shared.rope import Strand, order_of_work

TRIED, LARGE = 3, 1_000
"""So many notes stand there with the mends that clear them; the others lead to them. Trying one
takes as long as forecasting the house, so in one of this many activities it is the worst alone."""


@dataclass(frozen=True)
class CheckRow:
    """A check with its peg, its state and what it left."""

    href: str
    peg: Markup
    name: str
    stands: str
    left: str


@dataclass(frozen=True)
class VisitRow:
    """A visit to come: the day, who, for what, the answer, how to reach them."""

    day: date
    said: str
    crew: str
    work: str
    stands: str
    phone: str
    work_id: str


@dataclass(frozen=True)
class DetailPage:
    """The page of a detail."""

    detail_id: str
    name: str
    house: str
    sheet: str
    finish: str
    finish_id: str
    note: str
    countdown: Countdown | None
    sides: tuple[SideShown, ...]
    press: BigPress | None
    order: tuple[Strand, ...]
    visits: tuple[VisitRow, ...]
    checks: tuple[CheckRow, ...]
    drawings: tuple[str, ...]
    may_plan: bool
    implied: tuple[SideOrder, ...]
    notes: tuple[NoteShown, ...]
    project_id: str
    back: str


def detail_page(looking: Looking) -> DetailPage:
    """The page of a detail as it stands now."""
    snapshot, detail, words, now = looking.snapshot, looking.detail, looking.words, looking.now
    task = next_in(snapshot, looking.schedule, detail.id)
    last = last_of(snapshot, looking.schedule, detail.id)
    here = _found(looking)
    # What is drawn and said as order is not said again as a note.
    found = tuple(warning for warning in here if not about_order(warning))
    return DetailPage(
        detail_id=detail.id,
        name=detail.name,
        house=snapshot.project.name,
        sheet=detail.sheet,
        finish=finish_said(looking),
        finish_id=last.id if last and last.id not in looking.schedule.done else "",
        note=detail.note,
        countdown=countdown_of(looking),
        sides=sides_shown(snapshot, looking.schedule, detail.id, words, now, leaders(found)),
        press=big_press(looking),
        order=order_of_work(
            snapshot, looking.schedule, detail.id, words, now, task.id if task else None
        ),
        visits=tuple(_visits(looking)),
        checks=tuple(_check(looking, hold) for hold in looking.holds),
        drawings=tuple(_drawings(looking)),
        may_plan=looking.actor.role == "super",
        implied=order_said(looking, filter(about_order, here)),
        notes=notes_shown(looking, found),
        project_id=snapshot.project.id,
        back=f"/d/{detail.id}",
    )


def _found(looking: Looking) -> tuple[Warning, ...]:
    """The warnings here: all for the super, else those that are the viewer's to act on."""
    actor = looking.actor

    def wanted(warning: Warning) -> bool:
        theirs = (actor.crew_id is not None and warning.crew_id == actor.crew_id) or (
            warning.person_id == actor.person_id
        )
        return actor.role == "super" or theirs

    return find(
        looking.snapshot,
        looking.schedule,
        wanted,
        detail_id=looking.detail.id,
        tried_first=_tried(looking) if actor.role == "super" else 0,
        and_of=ABOUT_ORDER,
    )


def _tried(looking: Looking) -> int:
    return TRIED if len(looking.snapshot.activities) < LARGE else 1


def _visits(looking: Looking) -> Iterator[VisitRow]:
    snapshot = looking.snapshot
    here = {a.id: a for a in looking.chain}
    wanted = [
        b
        for b in snapshot.bookings.values()
        if b.ended is None and b.finish >= looking.now and set(b.activity_ids) & set(here)
    ]
    for visit in sorted(wanted, key=lambda b: b.start):
        crew = snapshot.crews[visit.crew_id]
        works = [here[id] for id in visit.activity_ids if id in here and not here[id].finished]
        under_way = visit.start <= looking.now and all(a.started for a in works)
        if not works or under_way:
            continue
        yield VisitRow(
            day=visit.start.date(),
            said=looking.when(visit.start),
            crew=crew.name,
            work=looking.words.listed([a.name for a in works]),
            stands=_answered(looking, visit),
            phone=crew.phone if looking.actor.role == "super" else "",
            work_id=works[0].id,
        )


def _answered(looking: Looking, visit: Booking) -> str:
    if visit.other_day is not None:
        return looking.say(message("detail.visit_other", day=looking.when(visit.other_day)))
    return looking.say(message("detail.visit", state=visit.state))


def _check(looking: Looking, hold: HoldPoint) -> CheckRow:
    snapshot = looking.snapshot
    state = hold_state(snapshot, hold, looking.schedule)
    attempts = snapshot.attempts_of.get(hold.id, ())
    stands = message("build_up.state", state=state)
    if missing := left_out(snapshot, hold):
        parts = tuple(f"{hold.part_name} {no}" for no in missing)
        stands = message("detail.all_but", left=parts)
    left = message(
        "detail.left",
        numbers=len(snapshot.measurements_of.get(attempts[-1].id, ())) if attempts else 0,
        photos=sum(p.hold_id == hold.id and bool(p.attempt_id) for p in snapshot.photos.values()),
    )
    return CheckRow(
        href=f"/h/{hold.id}",
        peg=peg_mark(PEGS[state]),
        name=snapshot.activities[hold.activity_id].name,
        stands=looking.say(stands),
        left=looking.say(left) if attempts else "",
    )


def _drawings(looking: Looking) -> Iterator[str]:
    for sheet in looking.snapshot.sheets.values():
        if sheet.detail_id == looking.detail.id and sheet.replaced_id is None:
            said = message(
                "detail.drawing",
                number=sheet.number,
                revision=sheet.revision,
                title=sheet.title,
            )
            yield looking.say(said).strip(" ,")
