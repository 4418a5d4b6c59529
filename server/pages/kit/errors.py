"""Pages for what went wrong, in plain sentences."""

from dataclasses import dataclass

from fastapi import FastAPI
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.refusals import Message, Refusal, message
from server.pages.kit.forms import Form
from server.pages.kit.policy import HEADERS
from server.pages.kit.refused import status_of_refusal
from server.pages.kit.render import is_partial, render
from server.pages.kit.viewing import SignInFirst, somebody
from server.store import Unavailable


@dataclass(frozen=True)
class ErrorPage:
    """What went wrong and what can be done."""

    heading: Message
    sentence: Message


@dataclass(frozen=True)
class AwayPage:
    """A form that could not be kept now, to be sent again as it is."""

    sentence: Message
    action: str
    fields: tuple[tuple[str, str], ...]
    files: bool


def away(request: Request, form: Form, refusal: Unavailable) -> Response:
    """What was typed, to be sent again with its key; made without the database."""
    fields = tuple(
        (name, value)
        for name, values in form.fields.items()
        for value in values
        if name != "password"
    )
    page = AwayPage(refusal.message, request.url.path, fields, bool(form.files))
    return _instead(request, render(request, None, "errors/away.html", page, status=503))


def refused(request: Request, refusal: Refusal) -> Response:
    """The page of a refusal."""
    return _page(request, status_of_refusal(refusal), refusal.message)


def install(app: FastAPI) -> None:
    """Lets the application answer refusals and errors with these pages."""

    @app.exception_handler(Refusal)
    def _refused(request: Request, error: Refusal) -> Response:
        return refused(request, error)

    @app.exception_handler(SignInFirst)
    def _sign_in(request: Request, error: SignInFirst) -> Response:
        if is_partial(request):
            return Response(status_code=204, headers={"HX-Redirect": error.address})
        return RedirectResponse(error.address, status_code=303)

    @app.exception_handler(HTTPException)
    def _status(request: Request, error: HTTPException) -> Response:
        known = {404: message("web.not_found"), 405: message("web.not_found")}
        sentence = known.get(error.status_code, message("web.not_understood"))
        return _page(request, error.status_code, sentence)

    @app.exception_handler(Exception)
    def _broken(request: Request, error: Exception) -> Response:
        # Starlette answers this one outside of all middleware.
        page = _page(request, 500, message("web.broken"), signed=False)
        page.headers.update(HEADERS)
        return page


def _page(request: Request, status: int, sentence: Message, *, signed: bool = True) -> Response:
    viewer = somebody(request) if signed and status != 503 else None
    heading = {
        403: message("web.heading.not_yours"),
        404: message("web.heading.not_here"),
        409: message("web.heading.changed"),
        503: message("web.heading.away"),
    }.get(status, message("web.heading.refused"))
    page = ErrorPage(heading, sentence)
    return _instead(request, render(request, viewer, "errors/page.html", page, status=status))


def _instead(request: Request, page: Response) -> Response:
    """The page in place of all of the one that pressed: htmx takes in only what is 422."""
    if is_partial(request):
        page.status_code = 422
        page.headers.update({"HX-Retarget": "body", "HX-Reswap": "outerHTML"})
    return page
