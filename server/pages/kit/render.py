"""A frozen context and a template become a page, or the part of it that a press asked for."""

import secrets
from collections.abc import Mapping
from dataclasses import fields
from datetime import datetime
from typing import Any

from markupsafe import escape
from starlette.requests import Request
from starlette.responses import HTMLResponse

from server.pages.kit.flash import flash_of, forget_flash
from server.pages.kit.web import web_of
from server.people.viewer import Viewer
from server.words import words

NAME = "\ue000name\ue001"
KEY = "\ue000key\ue001"
FLASH = "\ue000flash\ue001"
HEADERS = {"Cache-Control": "private, no-cache", "Vary": "Cookie, HX-Request"}


def is_partial(request: Request) -> bool:
    """Whether a press by htmx wants only its part of the page."""
    h = request.headers
    return "hx-request" in h and "hx-boosted" not in h and "hx-history-restore-request" not in h


def render(
    request: Request,
    viewer: Viewer | None,
    template: str,
    context: object,
    *,
    now: datetime | None = None,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """The answer of a page that is not kept (a form, a refusal, a part)."""
    body = body_of(request, viewer, template, context, now)
    return answer(request, viewer, body, status=status, headers=headers)


def body_of(
    request: Request, viewer: Viewer | None, template: str, context: object, now: datetime | None
) -> str:
    """The page with places for what is personal: the name, the form's key, the flash."""
    web = web_of(request)
    values: dict[str, Any] = {f.name: getattr(context, f.name) for f in fields(context)}  # type: ignore[arg-type]
    values.update(
        language=viewer.language if viewer else "en",
        now=now,
        role=viewer.actor.role if viewer else "",
        may_press=bool(viewer and viewer.actor.confirmed),
        signed_in=viewer is not None,
        demo_clock=_demo_clock(request, viewer),
        viewer_name=NAME,
        form_key=KEY,
        flash_text=FLASH,
        path=request.url.path,
    )
    return web.templates.get_template(template).render(values)


def answer(
    request: Request,
    viewer: Viewer | None,
    body: str,
    *,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """A body with its personal places filled in. Each form key is good for one sending."""
    flash = flash_of(request) if FLASH in body else None
    said = words(viewer.language if viewer else "en").say(flash) if flash else ""
    body = body.replace(NAME, str(escape(viewer.person.name if viewer else "")))
    body = body.replace(FLASH, f'<p class="flash" role="status">{escape(said)}</p>' if said else "")
    while KEY in body:
        body = body.replace(KEY, secrets.token_urlsafe(16), 1)
    response = HTMLResponse(body, status_code=status, headers={**HEADERS, **(headers or {})})
    if flash:
        forget_flash(request, response)
    return response


def _demo_clock(request: Request, viewer: Viewer | None) -> datetime | None:
    if viewer is None:
        return None
    return web_of(request).store.company_snapshot(viewer.company_id).company.frozen_at
