"""The decisions of a house for its super; whoever owes one answers on a page of their own."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.kit import SuperViewing, kept
from server.pages.shared.opened import open_project
from server.pages.site.decisions_shown import decisions_page

router = APIRouter()


@router.get("/p/{project_id}/decisions")
def page(request: Request, viewer: SuperViewing, project_id: str) -> Response:
    opened = open_project(request, viewer, project_id)
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: ("site/decisions.html", decisions_page(opened, viewer)),
        now=opened.now,
    )
