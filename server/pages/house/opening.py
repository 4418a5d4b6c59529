"""A house or the company opened for its super, and what its forms share."""

from collections.abc import Callable
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.rights import Hidden
from server.core.world import Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.press import press
from server.pages.kit.web import web_of
from server.pages.plan.trial import tried
from server.people.viewer import Viewer


def house_of(request: Request, viewer: Viewer, project_id: str) -> Snapshot:
    """The snapshot of a house; `Hidden` if it is another company's."""
    store = web_of(request).store
    if store.company_of(project_id) != viewer.company_id or not viewer.may_open(project_id):
        raise Hidden("rights.hidden")
    return store.snapshot(project_id)


def company_of(request: Request, viewer: Viewer) -> Snapshot:
    """What the company has beside its houses."""
    return web_of(request).store.company_snapshot(viewer.company_id)


def now_of(request: Request, snapshot: Snapshot) -> datetime:
    """Now where this house stands, or by the company's clock."""
    project = next(iter(snapshot.projects.values()), None)
    return web_of(request).store.now(snapshot.company, project)


def send(
    request: Request,
    viewer: Viewer,
    form: Form,
    snapshot: Snapshot,
    command: Callable[[], Command],
    show: Callable[[Form, int], Response],
    to: str,
) -> Response:
    """Tries the command so that all refusals are told together, then gives it to the store."""

    def commands() -> tuple[Command, ...]:
        made = command()
        tried(form, snapshot, viewer.actor, now_of(request, snapshot), made)
        return (made,)

    project_id = next(iter(snapshot.projects), None)
    return press(request, viewer, form, project_id, commands, to=to, again=show)
