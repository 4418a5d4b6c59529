"""Presses: the last change of the company's own things, or of a house, is undone or done again."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.undoing import Redo, Undo
from server.core.world.clock import status_of
from server.pages.house.context import house_page, houses_page
from server.pages.house.opening import company_of, house_of, now_of
from server.pages.kit.forms import Form
from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.kit.web import web_of
from server.pages.shared.undoing import press_undo, undo_shown
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.post("/house/undo")
def undo(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    return _press(request, viewer, form, Undo)


@router.post("/house/redo")
def redo(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    return _press(request, viewer, form, Redo)


@router.post("/p/{short}/undo")
def undo_in_house(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    return _press_in_house(request, viewer, form, short, Undo)


@router.post("/p/{short}/redo")
def redo_in_house(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    return _press_in_house(request, viewer, form, short, Redo)


def show_houses(
    request: Request, viewer: Viewer, form: Form | None = None, status: int = 200
) -> Response:
    """The company's houses, calendars and crews; with a form that was refused, why."""
    known, company = web_of(request).store.projects(viewer.company_id), company_of(request, viewer)
    page = houses_page(company, known, undo_shown(request, viewer, None, "/house", form))
    now = now_of(request, company)
    return render(request, viewer, "house/houses.html", page, now=now, status=status)


def show_house(
    request: Request, viewer: Viewer, short: str, form: Form | None = None, status: int = 200
) -> Response:
    """One house; with a form that was refused, why."""
    snapshot = house_of(request, viewer, short)
    now = now_of(request, snapshot)
    shown = undo_shown(request, viewer, short, f"/p/{short}", form)
    page = house_page(snapshot, status_of(now), shown)
    return render(request, viewer, "house/house.html", page, now=now, status=status)


def _press(
    request: Request, viewer: Viewer, form: Form, command: type[Undo] | type[Redo]
) -> Response:
    return press_undo(
        request, viewer, form, None, command, "/house",
        lambda form, status: show_houses(request, viewer, form, status),
    )  # fmt: skip


def _press_in_house(
    request: Request, viewer: Viewer, form: Form, short: str, command: type[Undo] | type[Redo]
) -> Response:
    house_of(request, viewer, short)
    return press_undo(
        request, viewer, form, short, command, f"/p/{short}",
        lambda form, status: show_house(request, viewer, short, form, status),
    )  # fmt: skip
