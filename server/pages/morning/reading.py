"""A reading of air, humidity, wood or plaster: typed by the super or by a crew."""

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.actuals import AddReading
from server.core.changes.rules_site import UNITS
from server.core.rights import NotTheirs, details_seen
from server.core.standing import places_of
from server.core.world import Place
from server.pages.kit import Form, Viewing, press, render, row_id
from server.pages.shared.opened import Opened, open_project
from server.pages.sign_in.context import inside
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@dataclass(frozen=True)
class ReadingPage:
    """The form of a reading, with the places that the viewer may stand in."""

    form: Form
    project_id: str
    house: str
    places: tuple[tuple[str, str], ...]
    place_id: str
    kinds: tuple[str, ...]
    back: str


@router.get("/p/{project_id}/reading")
def page(request: Request, viewer: Viewing, project_id: str) -> Response:
    opened = _opened(request, viewer, project_id)
    asked = Form({name: (value,) for name, value in request.query_params.items()})
    place_id, back = asked.typed("place_id"), inside(asked.typed("back", "/"))
    return _show(request, viewer, opened, Form(), place_id, back, 200)


@router.post("/p/{project_id}/reading")
def add(request: Request, viewer: Viewing, form: Sent, project_id: str) -> Response:
    opened = _opened(request, viewer, project_id)
    back = inside(form.typed("back", "/"))
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (
            AddReading(
                id=row_id(viewer, form),
                place_id=form.text("place_id", most=40),
                what=form.text("what", most=20),
                typed=form.text("typed", needed=True, most=40),
                where=form.text("where", most=120),
            ),
        ),
        to=back,
        again=lambda form, status: _show(request, viewer, opened, form, "", back, status),
    )


def _opened(request: Request, viewer: Viewer, project_id: str) -> Opened:
    opened = open_project(request, viewer, project_id)
    if viewer.actor.role == "rep":
        raise NotTheirs("rights.role")
    return opened


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    form: Form,
    place_id: str,
    back: str,
    status: int,
) -> Response:
    page = ReadingPage(
        form=form,
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        places=tuple((place.id, place.name) for place in _places(opened, viewer)),
        place_id=place_id,
        kinds=tuple(UNITS),
        back=back,
    )
    return render(request, viewer, "morning/reading.html", page, now=opened.now, status=status)


def _places(opened: Opened, viewer: Viewer) -> tuple[Place, ...]:
    """The places of the details that the viewer sees; the super sees them all."""
    snapshot = opened.snapshot
    if viewer.actor.role == "super":
        return tuple(snapshot.places.values())
    seen = details_seen(snapshot, viewer.actor)
    theirs = places_of(snapshot, (a.id for a in snapshot.chain if a.detail_id in seen))
    return tuple(place for id, place in snapshot.places.items() if id in theirs)
