"""Presses: the last change in the house is undone, or done again, from the plan of a detail."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.undoing import Redo, Undo
from server.pages.kit.forms import Form
from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.context import plan_page
from server.pages.shared.opened import open_detail
from server.pages.shared.undoing import press_undo, undo_shown
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.store import Applied

router = APIRouter()


@router.post("/d/{short}/plan/undo")
def undo(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    return _press(request, viewer, form, short, Undo)


@router.post("/d/{short}/plan/redo")
def redo(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    return _press(request, viewer, form, short, Redo)


def show_plan(
    request: Request, viewer: Viewer, short: str, form: Form | None = None, status: int = 200
) -> Response:
    """The plan page; with a form that was refused, why."""
    opened = open_detail(request, viewer, short)
    shown = undo_shown(request, viewer, opened.project_id, f"/d/{short}/plan", form)
    page = plan_page(opened, shown)
    return render(request, viewer, "plan/page.html", page, now=opened.now, status=status)


def _press(
    request: Request, viewer: Viewer, form: Form, short: str, command: type[Undo] | type[Redo]
) -> Response:
    project_id = open_detail(request, viewer, short).project_id

    def to(applied: Applied) -> str:
        """Back to the plan, unless it is the detail itself that went."""
        detail = applied.after.details.get(short)
        still = detail is not None and detail.ended is None
        return f"/d/{short}/plan" if still else f"/p/{project_id}"

    return press_undo(
        request, viewer, form, project_id, command, to,
        lambda form, status: show_plan(request, viewer, short, form, status),
    )  # fmt: skip
