"""The readings of a house; a new one is typed on the page of a reading, which leads back here."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.rights import NotTheirs
from server.pages.kit import Viewing, kept
from server.pages.shared.opened import open_project
from server.pages.site.readings_shown import readings_page

router = APIRouter()


@router.get("/p/{project_id}/readings")
def page(request: Request, viewer: Viewing, project_id: str) -> Response:
    opened = open_project(request, viewer, project_id)
    if viewer.actor.role == "rep":
        raise NotTheirs("rights.role")
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: ("site/readings.html", readings_page(opened, viewer)),
        now=opened.now,
    )
