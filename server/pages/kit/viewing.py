"""Dependencies that give a route its viewer, and what a page says once after a press."""

from typing import Annotated
from urllib.parse import quote, urlencode

from fastapi import Depends
from starlette.requests import Request

from server.core.refusals import Refusal
from server.core.rights import NotTheirs
from server.pages.kit.web import Web, web_of
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


class DemoElsewhere(Refusal):
    """A demo's accounts work on the machine the demo runs on, and nowhere else."""


def refuse_demo_elsewhere(web: Web, company_id: str) -> None:
    """Raises `DemoElsewhere` for a demo's people where others can reach the server."""
    if web.settings.loopback:
        return
    if web.store.company_snapshot(company_id).company.frozen_at is not None:
        raise DemoElsewhere("people.demo_elsewhere")


def somebody(request: Request) -> Viewer | None:
    """Whoever is signed in, or None."""
    web = web_of(request)
    return viewer_of(web.store, request.cookies.get(web.settings.cookie_name(COOKIE)))


def viewing(request: Request) -> Viewer:
    """Whoever is signed in; else the way to the sign-in page."""
    viewer = somebody(request)
    if viewer is None:
        there = request.url.path + (f"?{request.url.query}" if request.url.query else "")
        raise SignInFirst(there if request.method == "GET" else "/")
    refuse_demo_elsewhere(web_of(request), viewer.company_id)
    return viewer


def super_viewing(viewer: Annotated[Viewer, Depends(viewing)]) -> Viewer:
    """The super, or `NotTheirs`."""
    if viewer.actor.role != "super":
        raise NotTheirs("rights.role")
    return viewer


Viewing = Annotated[Viewer, Depends(viewing)]
SuperViewing = Annotated[Viewer, Depends(super_viewing)]
