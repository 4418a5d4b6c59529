"""A house or the company opened for its super, and what its forms share."""

from collections.abc import Callable
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command, change
from server.core.rights import Hidden
from server.core.world import Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.web import web_of
from server.pages.plan.pressing import send_to
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


def refuse_elsewhere(request: Request, viewer: Viewer, command: Command) -> None:
    """Refuses what a house has against a command of the company, which alone knows none of them."""
    store = web_of(request).store
    for house in store.projects(viewer.company_id):
        snapshot = store.snapshot(house.id)
        change(snapshot, viewer.actor, command, now_of(request, snapshot))


def send(
    request: Request,
    viewer: Viewer,
    form: Form,
    snapshot: Snapshot,
    command: Callable[[], Command],
    show: Callable[[Form, int], Response],
    to: str,
) -> Response:
    """Gives a command to the store; where it is refused, all that is wrong is told together."""
    return send_to(request, viewer, form, snapshot, now_of(request, snapshot), command, show, to)
