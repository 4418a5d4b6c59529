"""What is typed, looked for in every house that the viewer may open."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.find.context import MOST_TYPED, find_page
from server.pages.kit import Viewing, is_partial, render, web_of
from server.pages.shared.opened import Opened, open_project
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/find")
def page(request: Request, viewer: Viewing) -> Response:
    """The page, or what was found alone while somebody types."""
    opened = _opened(request, viewer)
    asked = request.query_params
    context = find_page(opened, viewer, asked.get("q", "")[:MOST_TYPED], asked.get("all", ""))
    store = web_of(request).store
    company = store.company_snapshot(viewer.company_id).company
    now = opened[0].now if opened else store.now(company)
    template = "find/_found.html" if is_partial(request) else "find/page.html"
    return render(request, viewer, template, context, now=now)


def _opened(request: Request, viewer: Viewer) -> tuple[Opened, ...]:
    given_to = None if viewer.actor.role == "super" else viewer.person.id
    projects = web_of(request).store.projects(viewer.company_id, given_to=given_to)
    return tuple(
        open_project(request, viewer, project.id)
        for project in projects
        if project.ended is None and viewer.may_open(project.id)
    )
