"""Sign in, open a personal link, go away again."""

from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.refusals import Refusal
from server.pages.kit.forms import Form
from server.pages.kit.refused import status_of_refusal
from server.pages.kit.render import render
from server.pages.kit.viewing import (
    COOKIE,
    DEVICE_COOKIE,
    DemoElsewhere,
    refuse_demo_elsewhere,
    somebody,
)
from server.pages.kit.web import web_of
from server.pages.sign_in.context import LinkPage, SignInPage, inside
from server.people.links import open_link, take_link
from server.people.sign_in import sign_in
from server.people.viewer import sign_out, viewer_of

router = APIRouter()


async def form_of(request: Request) -> AsyncIterator[Form]:
    """The form of a request; its files are let go of when it is answered."""
    async with request.form() as data:
        yield Form.of(data)


Sent = Annotated[Form, Depends(form_of)]


@router.get("/sign-in")
def sign_in_page(request: Request) -> Response:
    then = inside(request.query_params.get("then", "/"))
    return render(request, None, "sign_in/page.html", SignInPage(form=Form(), then=then))


@router.post("/sign-in")
def sign_in_press(request: Request, form: Sent) -> Response:
    web = web_of(request)
    then = inside(form.typed("then", "/"))
    address = request.client.host if request.client else ""
    try:
        secret = sign_in(web.store, form.typed("login"), form.typed("password"), address)
        _refuse_demo_elsewhere(request, secret)
    except Refusal as refusal:
        form.refuse(refusal)
        page = SignInPage(form=form, then=then)
        return render(request, None, "sign_in/page.html", page, status=status_of_refusal(refusal))
    return _signed_in(request, secret, then)


@router.get("/l/{secret}")
def link_page(request: Request, secret: str) -> Response:
    person = open_link(web_of(request).store, secret).person
    page = LinkPage(secret=secret, name=person.name, title=person.title, language=person.language)
    return render(request, None, "sign_in/link.html", page)


@router.post("/l/{secret}")
def link_press(request: Request, secret: str) -> Response:
    web = web_of(request)
    refuse_demo_elsewhere(web, open_link(web.store, secret).link.company_id)
    known = request.cookies.get(web.settings.cookie_name(DEVICE_COOKIE))
    label = _phone(request.headers.get("user-agent", ""))
    session, phone = take_link(web.store, secret, label, known)
    response = _signed_in(request, session, "/me")
    _keep(request, response, DEVICE_COOKIE, phone)
    return response


@router.post("/sign-out")
def sign_out_press(request: Request) -> Response:
    web = web_of(request)
    name = web.settings.cookie_name(COOKIE)
    secret = request.cookies.get(name)
    if secret and somebody(request):
        sign_out(web.store, secret)
    response = RedirectResponse("/sign-in", status_code=303)
    response.delete_cookie(name, path="/", secure=web.settings.secure, httponly=True)
    return response


def _signed_in(request: Request, secret: str, then: str) -> Response:
    web = web_of(request)
    before = request.cookies.get(web.settings.cookie_name(COOKIE))
    if before:
        sign_out(web.store, before)
    response = RedirectResponse(then, status_code=303)
    _keep(request, response, COOKIE, secret)
    return response


def _keep(request: Request, response: Response, name: str, value: str) -> None:
    settings = web_of(request).settings
    response.set_cookie(
        settings.cookie_name(name),
        value,
        max_age=400 * 24 * 3600,
        path="/",
        secure=settings.secure,
        httponly=True,
        samesite="lax",
    )


def _refuse_demo_elsewhere(request: Request, secret: str) -> None:
    web = web_of(request)
    viewer = viewer_of(web.store, secret)
    try:
        if viewer is not None:
            refuse_demo_elsewhere(web, viewer.company_id)
    except DemoElsewhere:
        sign_out(web.store, secret)
        raise


def _phone(agent: str) -> str:
    for word in ("iPhone", "iPad", "Android", "Windows", "Macintosh", "Linux"):
        if word in agent:
            return word
    return "?"
