"""The page of a detail's dates, and the presses that promise them and say why they moved."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.bookings import AgreeDates
from server.core.changes.pushing import GiveCause
from server.pages.dates.context import Typed, dates_page
from server.pages.kit import Form, SuperViewing, Viewing, kept, press, render, row_id
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{detail_id}/promise")
def page(request: Request, viewer: Viewing, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: ("dates/page.html", dates_page(opened, viewer, Typed())),
        now=opened.now,
    )


@router.post("/d/{detail_id}/promise")
def agree(request: Request, viewer: SuperViewing, form: Sent, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (AgreeDates(detail_id=detail_id, reason=form.text("reason")),),
        to=f"/d/{detail_id}",
        again=lambda form, status: _again(request, viewer, opened, Typed(promise=form), status),
    )


@router.post("/d/{detail_id}/cause")
def say_why(request: Request, viewer: SuperViewing, form: Sent, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (_cause(form, viewer, detail_id),),
        to=f"/d/{detail_id}/promise",
        again=lambda form, status: _again(request, viewer, opened, Typed(cause=form), status),
    )


def _cause(form: Form, viewer: Viewer, detail_id: str) -> GiveCause:
    """The cause as it was typed; what is missing is refused with the others."""
    cause = form.text("cause", needed=True)
    form.text("day", needed=True)
    day = form.day("day")
    form.check()
    assert day is not None
    id = row_id(viewer, form)
    return GiveCause(id=id, detail_id=detail_id, day=day, cause=cause)


def _again(request: Request, viewer: Viewer, opened: Opened, typed: Typed, status: int) -> Response:
    """The page once more, with what was typed."""
    page = dates_page(opened, viewer, typed)
    return render(request, viewer, "dates/page.html", page, now=opened.now, status=status)
