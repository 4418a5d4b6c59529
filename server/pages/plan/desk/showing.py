"""The desk as an answer: the whole page, or the part of it that a press gets back."""

from starlette.requests import Request
from starlette.responses import Response

from server.core.refusals import Message
from server.pages.kit import is_partial, render, see
from server.pages.kit.forms import Form
from server.pages.plan.desk.context import Refused
from server.pages.plan.desk.shown import desk, standing_of
from server.pages.shared.opened import Opened, open_detail
from server.pages.shared.undoing import undo_shown
from server.people.viewer import Viewer


def show_desk(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    refused: Refused | None = None,
    whole: tuple[Message, ...] = (),
    *,
    turned: Form | None = None,
    status: int = 200,
) -> Response:
    """The desk with what was refused in its place; `turned` is an undo or redo that was refused."""
    undo = undo_shown(request, viewer, opened.project_id, f"/d/{opened.detail_id}/plan", turned)
    context = desk(opened, undo, refused, whole)
    template = "plan/_desk.html" if is_partial(request) else "plan/page.html"
    tag = {"ETag": standing_of(opened)} if status == 200 else None
    return render(request, viewer, template, context, now=opened.now, status=status, headers=tag)


def show_taken(request: Request, viewer: Viewer, short: str, said: Message | None) -> Response:
    """What follows a press that was taken: on the desk the desk as it is now, else its page."""
    if not is_partial(request) or request.headers.get("hx-target") != "desk":
        return see(request, f"/d/{short}/plan", said)
    return show_desk(request, viewer, open_detail(request, viewer, short))
