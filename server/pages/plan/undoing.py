"""Presses: the last change in the house is undone, or done again, from the plan of a detail."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.undoing import Redo, Undo
from server.core.refusals import Message
from server.pages.kit import see
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.desk.showing import show_desk, show_taken
from server.pages.shared.opened import open_detail
from server.pages.shared.undoing import press_undo
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


def _press(
    request: Request, viewer: Viewer, form: Form, short: str, command: type[Undo] | type[Redo]
) -> Response:
    project_id = open_detail(request, viewer, short).project_id

    def done(applied: Applied, said: Message) -> Response:
        """Back to the plan, unless it is the detail itself that went."""
        detail = applied.after.details.get(short)
        if detail is None or detail.ended is not None:
            return see(request, f"/p/{project_id}", said)
        return show_taken(request, viewer, short, said)

    return press_undo(
        request, viewer, form, project_id, command, "",
        lambda form, status: show_desk(
            request, viewer, open_detail(request, viewer, short), turned=form, status=status
        ),
        done,
    )  # fmt: skip
