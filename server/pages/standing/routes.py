"""Where people stand, and the square that is pressed."""

from datetime import date

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.kit import SuperViewing, render
from server.pages.shared.opened import open_project
from server.pages.standing.context import standing_page

router = APIRouter()


@router.get("/p/{project_id}/days")
def page(request: Request, viewer: SuperViewing, project_id: str) -> Response:
    opened = open_project(request, viewer, project_id)
    asked = request.query_params
    context = standing_page(opened, asked.get("place", ""), _day(asked.get("day", "")))
    return render(request, viewer, "standing/page.html", context, now=opened.now)


def _day(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed)
    except ValueError:
        return None
