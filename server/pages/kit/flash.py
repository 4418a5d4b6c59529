"""What the next page says once after a press, carried by a cookie."""

import json
from urllib.parse import quote, unquote

from starlette.requests import Request
from starlette.responses import Response

from server.core.refusals import Message
from server.pages.kit.web import web_of

COOKIE = "flash"
SAID: dict[str, frozenset[str]] = {
    "web.taken": frozenset(),
    "web.already_sent": frozenset({"at"}),
    "calendars.said": frozenset({"text"}),
}
"""The messages that may be said, and the texts that each needs."""


def keep_flash(request: Request, response: Response, said: Message) -> None:
    """Lets the next page say this; only texts go into the cookie."""
    settings = web_of(request).settings
    value = quote(json.dumps([said.id, {k: str(v) for k, v in said.values.items()}]))
    response.set_cookie(
        settings.cookie_name(COOKIE),
        value,
        max_age=60,
        path="/",
        secure=settings.secure,
        httponly=True,
        samesite="lax",
    )


def forget_flash(request: Request, response: Response) -> None:
    """It has been said."""
    settings = web_of(request).settings
    name = settings.cookie_name(COOKIE)
    response.delete_cookie(name, path="/", secure=settings.secure, httponly=True, samesite="lax")


def flash_of(request: Request) -> Message | None:
    """What this page says once; nothing if the cookie is not one that we would write."""
    kept = request.cookies.get(web_of(request).settings.cookie_name(COOKIE), "")
    try:
        id, values = json.loads(unquote(kept))
        known = set(values) == SAID[id] and all(isinstance(v, str) for v in values.values())
    except (ValueError, TypeError, KeyError, AttributeError):
        return None
    return Message(id, values) if known else None
