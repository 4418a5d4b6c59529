"""A press that changes something: commands in, and the way on or the form again."""

from collections.abc import Callable

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.changes import Command
from server.core.refusals import Message, Refusal, message
from server.core.rights import NotTheirs
from server.pages.kit.errors import away
from server.pages.kit.flash import keep_flash
from server.pages.kit.forms import Form, Refusals
from server.pages.kit.refused import status_of_refusal
from server.pages.kit.render import is_partial
from server.pages.kit.web import web_of
from server.people.viewer import Viewer
from server.store import Applied, Unavailable
from server.words import words


def press(
    request: Request,
    viewer: Viewer,
    form: Form,
    project_id: str | None,
    commands: Callable[[], tuple[Command, ...]],
    *,
    to: str | Callable[[Applied], str],
    again: Callable[[Form, int], Response],
    done: Callable[[Applied, Message], Response] | None = None,
) -> Response:
    """Reads the commands, gives them to the store, and leads on to the page `to`.

    Where there is more to say than that it was taken, `done(applied, said)` answers instead.

    `commands` reads the form; it may refuse. On any refusal `again(form, status)` shows the form
    once more with the sentences beside their fields and everything that was typed; what the person
    may not see or do (404, 403) goes to the page of that status instead. When the database is away,
    so is what the form is made from: then the page offers to send the same once more.
    """
    try:
        made = commands()
        form.check()
        applied = web_of(request).store.apply(
            viewer.actor,
            project_id,
            *made,
            company_id=viewer.company_id if project_id is None else None,
            key=form.key,
            content=f"{request.url.path} {form.content}" if form.key else None,
            device=viewer.device,
        )
    except NotTheirs as refusal:
        if refusal.hidden:
            raise
        form.refuse(refusal)
        return again(form, _status(request, refusal))
    except Unavailable as refusal:
        return away(request, form, refusal)
    except Refusal as refusal:
        if refusal not in form.refusals and not isinstance(refusal, Refusals):
            form.refuse(refusal)
        return again(form, _status(request, refusal))
    said = message("web.taken")
    if applied.first_at is not None:
        said = message("web.already_sent", at=_clock(request, viewer, applied))
    if done is not None:
        return done(applied, said)
    return see(request, to if isinstance(to, str) else to(applied), said)


def _status(request: Request, refusal: Refusal) -> int:
    """The status of a refusal; htmx takes in an answer only if it is 422."""
    return 422 if is_partial(request) else status_of_refusal(refusal)


def see(request: Request, address: str, said: Message | None = None) -> Response:
    """The way to another page after a press, which says `said` once."""
    response: Response
    if is_partial(request):
        # A whole load: the next page may have a script or a style sheet of its own.
        response = Response(status_code=204, headers={"HX-Redirect": address})
    else:
        response = RedirectResponse(address, status_code=303)
    if said is not None:
        keep_flash(request, response, said)
    return response


def _clock(request: Request, viewer: Viewer, applied: Applied) -> str:
    assert applied.first_at is not None
    return words(viewer.language).clock(applied.first_at)
