"""The temporary works of a house, and the presses on one: a look, or out."""

from datetime import datetime

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.changes.actuals import LookAtTemporary, TakeOutTemporary
from server.core.rights import Hidden, NotTheirs
from server.pages.kit import Form, Viewing, kept, press, render
from server.pages.kit.forms import BadField
from server.pages.plan.pressing import ids_of
from server.pages.shared.opened import Opened, open_project
from server.pages.sign_in.routes import Sent
from server.pages.site.temporaries_shown import temporaries_page, works_seen
from server.people.viewer import Viewer

router = APIRouter()
MOST = 1000


@router.get("/p/{project_id}/temporaries")
def page(request: Request, viewer: Viewing, project_id: str) -> Response:
    opened = _opened(request, viewer, project_id)
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: ("site/temporaries.html", temporaries_page(opened, viewer)),
        now=opened.now,
    )


@router.post("/p/{project_id}/temporaries/{temporary_id}")
def record(
    request: Request, viewer: Viewing, form: Sent, project_id: str, temporary_id: str
) -> Response:
    opened = _opened(request, viewer, project_id)
    if all(work.id != temporary_id for work in works_seen(opened.snapshot, viewer)):
        raise Hidden("rights.hidden")
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (_command(viewer, form, temporary_id, opened.now),),
        to=f"/p/{project_id}/temporaries",
        again=lambda form, status: _again(request, viewer, opened, form, temporary_id, status),
    )


def _command(viewer: Viewer, form: Form, id: str, now: datetime) -> Command:
    """A look, in order or not, or that it is out; now, if no other time is given."""
    pressed = form.text("press", most=20)
    if pressed == "out":
        return TakeOutTemporary(temporary_id=id, when=form.moment(f"when_{id}") or now)
    if pressed not in ("in order", "not in order"):
        raise BadField("form.needed", field="note")
    return LookAtTemporary(
        id=next(ids_of(viewer, form)),
        temporary_id=id,
        in_order=pressed == "in order",
        note=form.text(f"note_{id}", most=MOST),
    )


def _opened(request: Request, viewer: Viewer, project_id: str) -> Opened:
    opened = open_project(request, viewer, project_id)
    if viewer.actor.role == "rep":
        raise NotTheirs("rights.role")
    return opened


def _again(
    request: Request, viewer: Viewer, opened: Opened, form: Form, id: str, status: int
) -> Response:
    """The page with what is wrong beside the fields of this temporary work."""
    for refusal in form.all_refusals:
        if refusal.field is not None and not refusal.field.endswith(f"_{id}"):
            refusal.field = f"{refusal.field}_{id}"
    context = temporaries_page(opened, viewer, form, id)
    return render(request, viewer, "site/temporaries.html", context, now=opened.now, status=status)
