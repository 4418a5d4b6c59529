"""Dependencies that give a route its viewer, and what a page says once after a press."""

import json
from typing import Annotated
from urllib.parse import quote, urlencode

from fastapi import Depends
from starlette.requests import Request

from server.core.refusals import Message
from server.core.rights import NotTheirs
from server.pages.kit.web import web_of
from server.people.viewer import Viewer, viewer_of

COOKIE = "stairhold"
DEVICE_COOKIE = "stairhold-device"


class SignInFirst(Exception):
    """Nobody is signed in; `then` is where they wanted to go."""

    def __init__(self, then: str) -> None:
        super().__init__(then)
        self.then = then

    @property
    def address(self) -> str:
        """The sign-in page that leads back."""
        return f"/sign-in?{urlencode({'then': self.then}, quote_via=quote)}"


def somebody(request: Request) -> Viewer | None:
    """Whoever is signed in, or None."""
    web = web_of(request)
    return viewer_of(web.store, request.cookies.get(web.settings.cookie_name(COOKIE)))


def viewing(request: Request) -> Viewer:
    """Whoever is signed in; else the way to the sign-in page."""
    viewer = somebody(request)
    if viewer is None:
        path = request.url.path
        raise SignInFirst(path if request.method == "GET" else "/")
    return viewer


def super_viewing(viewer: Annotated[Viewer, Depends(viewing)]) -> Viewer:
    """The super, or `NotTheirs`."""
    if viewer.actor.role != "super":
        raise NotTheirs("rights.role")
    return viewer


Viewing = Annotated[Viewer, Depends(viewing)]
SuperViewing = Annotated[Viewer, Depends(super_viewing)]


FLASHES = frozenset({"web.taken", "web.already_sent"})


def flash_cookie(message: Message) -> str:
    """What the next page says once, as a cookie's value: only texts go into it."""
    return quote(json.dumps([message.id, {k: str(v) for k, v in message.values.items()}]))


def flash_of(request: Request) -> Message | None:
    """What this page says once; nothing if the cookie is not one of ours."""
    from urllib.parse import unquote

    try:
        id, values = json.loads(unquote(request.cookies["flash"]))
    except (KeyError, ValueError, TypeError):
        return None
    return Message(id, values) if id in FLASHES and isinstance(values, dict) else None
