"""Pages that are rendered once per revision, and answered by ETag when nothing has changed.

The key is (build, revisions, status, role and rights, language, address, whole or part); a change
makes new revisions, so nothing is ever forgotten by hand.
"""

import hashlib
from collections.abc import Callable, Sequence
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response

from server.core.rights import Hidden
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.pages.kit.flash import flash_of
from server.pages.kit.render import HEADERS, answer, body_of, is_partial
from server.pages.kit.web import web_of
from server.people.viewer import Viewer

Made = tuple[str, object]


def kept(
    request: Request,
    viewer: Viewer,
    snapshots: Sequence[Snapshot],
    make: Callable[[], Made],
    *,
    now: datetime,
) -> Response:
    """The page that `make` gives (template, context), kept as long as `snapshots` stand still.

    They are the very snapshots that the page is made from, so that no page of an older revision is
    kept under a newer one. Without any, the page is of the company alone.
    """
    web = web_of(request)
    for snapshot in snapshots:
        if any(not viewer.may_open(project_id) for project_id in snapshot.projects):
            raise Hidden("rights.hidden")
    person = viewer.person
    key = (
        web.build,
        tuple(_standing(s) for s in snapshots or [web.store.company_snapshot(viewer.company_id)]),
        status_of(now),
        person.id,
        viewer.actor.confirmed,
        viewer.language,
        person.units,
        str(request.url.path),
        request.url.query,
        is_partial(request),
    )
    etag = f'"{hashlib.sha256(repr((key, person.name)).encode()).hexdigest()[:24]}"'
    flash = flash_of(request)
    if flash is None and etag in _tags(request):
        return Response(status_code=304, headers={**HEADERS, "ETag": etag})
    body = web.bodies.get(key)
    if body is None:
        template, context = make()
        body = body_of(request, viewer, template, context, now)
        web.bodies.keep(key, body)
    return answer(request, viewer, body, headers={} if flash else {"ETag": etag})


def _standing(snapshot: Snapshot) -> tuple[object, ...]:
    """What a snapshot is of, and its revisions."""
    return tuple(snapshot.projects), snapshot.company_revision, snapshot.project_revision


def _tags(request: Request) -> set[str]:
    """The tags a browser has kept; a proxy may have made them weak."""
    tags = request.headers.get("if-none-match", "").split(",")
    return {tag.strip().removeprefix("W/") for tag in tags}
