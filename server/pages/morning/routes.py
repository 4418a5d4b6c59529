"""The morning sheet, and the presses on it: a look at a temporary work, a note accepted."""

from dataclasses import dataclass
from datetime import date, timedelta

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.changes.actuals import AcceptWarning, AddTemporary, LookAtTemporary
from server.core.changes.pushing import Hear
from server.core.rights import Hidden
from server.core.warnings import find
from server.core.world import Crew, Place
from server.pages.kit import Form, SuperViewing, Viewing, kept, press, render, row_id, web_of
from server.pages.morning import reading
from server.pages.morning.context import MorningSheet, house_part
from server.pages.plan.writing import read_number
from server.pages.shared.notes import NoteShown, notes_shown
from server.pages.shared.opened import Opened, open_project
from server.pages.sign_in.context import inside
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
router.include_router(reading.router)

YESTERDAY = timedelta(days=1)


@dataclass(frozen=True)
class NotePage:
    """One note with what mends it, or to be lived with until a day."""

    form: Form
    project_id: str
    note: NoteShown
    back: str
    until: date


@dataclass(frozen=True)
class TemporaryPage:
    """A temporary work that is put in."""

    form: Form
    project_id: str
    house: str
    places: tuple[Place, ...]
    crews: tuple[Crew, ...]


@router.get("/")
def page(request: Request, viewer: Viewing) -> Response:
    if viewer.actor.role != "super":
        return RedirectResponse("/me" if viewer.actor.role == "crew" else "/v", status_code=303)
    store = web_of(request).store
    projects = store.projects(viewer.company_id)
    company = store.company_snapshot(viewer.company_id).company
    opened = [open_project(request, viewer, p.id) for p in projects]

    def make() -> tuple[str, object]:
        houses = tuple(
            house_part(
                one,
                store.log(one.project_id, since=one.now - YESTERDAY, limit=40),
                frozenset((viewer.person.id,)),
            )
            for one in opened
        )
        return "morning/page.html", MorningSheet(houses, company.name)

    now = store.now(company, projects[0] if projects else None)
    return kept(request, viewer, [one.snapshot for one in opened], make, now=now)


@router.get("/p/{project_id}/note")
def note_page(request: Request, viewer: SuperViewing, project_id: str) -> Response:
    form = Form({"note": (request.query_params.get("note", ""),)})
    back = inside(request.query_params.get("back", "/"))
    return _note(request, viewer, project_id, form, back, 200)


@router.post("/p/{project_id}/note")
def accept(request: Request, viewer: SuperViewing, form: Sent, project_id: str) -> Response:
    back = inside(form.typed("back", "/"))
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (
            AcceptWarning(
                id=row_id(viewer, form),
                warning=form.typed("note"),
                reason=form.text("reason"),
                until=form.day("until") or date.min,
            ),
        ),
        to=back,
        again=lambda form, status: _note(request, viewer, project_id, form, back, status),
    )


@router.post("/p/{project_id}/temporary/{temporary_id}")
def look(
    request: Request, viewer: SuperViewing, form: Sent, project_id: str, temporary_id: str
) -> Response:
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (
            LookAtTemporary(
                id=row_id(viewer, form),
                temporary_id=temporary_id,
                in_order=form.typed("in_order", "yes") == "yes",
                note=form.text("note"),
            ),
        ),
        to="/",
        again=lambda form, status: _refused(request, form),
    )


@router.post("/p/{project_id}/heard")
def heard(request: Request, viewer: SuperViewing, form: Sent, project_id: str) -> Response:
    """The super has told a crew what it has to hear."""
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (Hear(telling_ids=form.chosen("telling_ids")),),
        to=inside(form.typed("back", "/")),
        again=lambda form, status: _refused(request, form),
    )


@router.get("/p/{project_id}/temporary")
def temporary_page(request: Request, viewer: SuperViewing, project_id: str) -> Response:
    return _temporary(request, viewer, project_id, Form(), 200)


@router.post("/p/{project_id}/temporary")
def put_in(request: Request, viewer: SuperViewing, form: Sent, project_id: str) -> Response:
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (
            AddTemporary(
                id=row_id(viewer, form),
                kind=form.text("kind", most=20),
                name=form.text("name", most=200),
                place_id=form.text("place_id", most=40) or None,
                crew_id=form.text("crew_id", most=40) or None,
                daily=form.ticked("daily"),
                risers=form.whole("risers", most=40),
                rise=read_number(form, "rise", "in"),
            ),
        ),
        to="/",
        again=lambda form, status: _temporary(request, viewer, project_id, form, status),
    )


def _refused(request: Request, form: Form) -> Response:
    raise form.all_refusals[0]


def _note(
    request: Request, viewer: Viewer, project_id: str, form: Form, back: str, status: int
) -> Response:
    opened: Opened = open_project(request, viewer, project_id)
    asked = form.typed("note")
    note = find(opened.snapshot, opened.schedule, lambda w: w.identity == asked, plan=True)
    if not note:
        raise Hidden("note.gone")
    until = opened.now.date() + timedelta(days=7)
    page = NotePage(form, project_id, notes_shown(opened, note)[0], back, until)
    return render(request, viewer, "morning/note.html", page, now=opened.now, status=status)


def _temporary(
    request: Request, viewer: Viewer, project_id: str, form: Form, status: int
) -> Response:
    opened = open_project(request, viewer, project_id)
    snapshot = opened.snapshot
    page = TemporaryPage(
        form,
        project_id,
        snapshot.project.name,
        tuple(snapshot.places.values()),
        tuple(c for c in snapshot.crews.values() if c.ended is None),
    )
    return render(request, viewer, "morning/temporary.html", page, now=opened.now, status=status)
