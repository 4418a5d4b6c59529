"""Pages that are rendered once per revision, and answered by ETag when nothing has changed.

The key is (build, revisions, status, role and rights, language, address, whole or part); a change
makes new revisions, so nothing is ever forgotten by hand.
"""

import hashlib
from collections.abc import Callable
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response

from server.core.rights import Hidden
from server.core.world.clock import status_of
from server.pages.kit.render import HEADERS, answer, body_of, is_partial
from server.pages.kit.viewing import flash_of
from server.pages.kit.web import web_of
from server.people.viewer import Viewer

Made = tuple[str, object]


def kept(
    request: Request,
    viewer: Viewer,
    project_ids: tuple[str, ...],
    make: Callable[[], Made],
    *,
    now: datetime,
) -> Response:
    """The page that `make` gives (template, context), kept as long as its projects stand still."""
    web = web_of(request)
    for project_id in project_ids:
        if not viewer.may_open(project_id):
            raise Hidden("rights.hidden")
    revisions = tuple(web.store.revisions(p) for p in project_ids)
    company = () if project_ids else web.store.company_snapshot(viewer.company_id).company_revision
    person = viewer.person
    key = (
        web.build,
        revisions,
        company,
        status_of(now),
        person.id,
        viewer.actor.confirmed,
        person.language,
        person.units,
        str(request.url.path),
        request.url.query,
        is_partial(request),
    )
    etag = f'"{hashlib.sha256(repr((key, person.name)).encode()).hexdigest()[:24]}"'
    flash = flash_of(request)
    if flash is None and request.headers.get("if-none-match") == etag:
        return Response(status_code=304, headers={**HEADERS, "ETag": etag})
    body = web.bodies.get(key)
    if body is None:
        template, context = make()
        body = body_of(request, viewer, template, context, now)
        web.bodies.keep(key, body)
    return answer(request, viewer, body, headers={} if flash else {"ETag": etag})
