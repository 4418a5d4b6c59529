"""What a crew sees of its own, over all houses it was given."""

from dataclasses import dataclass, replace
from datetime import timedelta

from markupsafe import Markup

from server.core.next import Going, who_goes_next
from server.core.promises import visits_kept
from server.core.refusals import message
from server.core.states import hold_state, is_released, left_out
from server.core.warnings import found
from server.core.world import Person
from server.drawing.pegs import peg_mark
from server.pages.kit import Form
from server.pages.mine.visits import (
    HouseHears,
    VisitAsked,
    WastedVisit,
    hears_of,
    visits_of,
    wasted_of,
)
from server.pages.mine.works import WorkRow, place_of, work_row
from server.pages.shared.layers import PEGS
from server.pages.shared.notes import NoteShown, notes_shown
from server.pages.shared.opened import Opened
from server.pages.shared.receipts import Receipt, receipts
from server.pages.visits.context import kept_said
from server.words import languages

RECEIPTS = timedelta(days=60)
FIRST = 5
"""So many visits stand open; later ones that the crew has said it comes to are folded."""


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
    hears: tuple[HouseHears, ...]
    notes: tuple[NoteShown, ...]
    visits: tuple[VisitAsked, ...]
    later_visits: tuple[VisitAsked, ...]
    on_now: tuple[WorkRow, ...]
    on_next: tuple[WorkRow, ...]
    waiting: tuple[WorkRow, ...]
    checks: tuple[CheckAsked, ...]
    receipts: tuple[Receipt, ...]
    wasted: tuple[WastedVisit, ...]
    kept: str
    units: str
    languages: tuple[str, ...]
    form: Form
    refused_id: str


def mine_page(opened: tuple[Opened, ...], person: Person, form: Form, refused_id: str) -> MinePage:
    """Everything of one crew."""
    crew_id = person.crew_id or ""
    own = frozenset((person.id, crew_id))
    rows = [(one, g) for one in opened for g in _going(one, crew_id)]
    tasks = [(one, g) for one, g in rows if g.activity.kind == "task"]
    crew = opened[0].snapshot.crews.get(crew_id) if opened else None
    visits = [v for one in opened for v in visits_of(one, crew_id, own)]
    folded = [v for v in visits[FIRST:] if v.state == "coming" and v.id not in refused_id]
    return MinePage(
        crew=crew.name if crew else "",
        hears=tuple(h for one in opened if (h := hears_of(one, crew_id)) is not None),
        notes=_notes(opened, crew_id),
        visits=tuple(v for v in visits if v not in folded),
        later_visits=tuple(folded),
        on_now=tuple(work_row(one, g, crew_id) for one, g in tasks if g.standing == "under way"),
        on_next=tuple(
            work_row(one, g, crew_id) for one, g in tasks if g.standing in ("ready", "soon")
        ),
        waiting=tuple(work_row(one, g, crew_id) for one, g in tasks if g.standing == "waits"),
        checks=tuple(c for one, g in rows if (c := _check(one, g, crew_id)) is not None),
        receipts=tuple(
            receipt
            for one in opened
            for hold, receipt in receipts(one, one.now - RECEIPTS)
            if hold.marks_crew_id == crew_id
        ),
        wasted=tuple(w for one in opened for w in wasted_of(one, crew_id)),
        kept=_kept(opened, crew_id),
        units=form.typed("units", person.units),
        languages=languages(),
        form=form,
        refused_id=refused_id,
    )


def _notes(opened: tuple[Opened, ...], crew_id: str) -> tuple[NoteShown, ...]:
    """The notes that this crew can act on, over all its houses, with the way to a check."""
    shown: list[NoteShown] = []
    for one in opened:
        own = [w for w in found(one.snapshot, one.schedule) if crew_id and w.crew_id == crew_id]
        looks = [replace(w, mends=tuple(m for m in w.mends if m.goto_hold_id)) for w in own]
        shown += notes_shown(one, looks, first=len(shown) + 1)
    return tuple(shown)


def _going(opened: Opened, crew_id: str) -> tuple[Going, ...]:
    return who_goes_next(opened.snapshot, opened.schedule, opened.status, crew_id=crew_id)


def _kept(opened: tuple[Opened, ...], crew_id: str) -> str:
    """How often the crew came on the day it had promised, over all its houses."""
    found = [visits_kept(one.snapshot, crew_id, one.now.date()) for one in opened]
    came, due = sum(v.came for v in found), sum(v.promised for v in found)
    return kept_said(opened[0].words, came, due) if opened else ""


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
        place=place_of(opened, going.activity),
        stands=opened.words.say(stands),
        peg=peg_mark(PEGS[state]),
    )
