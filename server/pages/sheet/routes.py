"""The wall sheet, for whoever may see the detail."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.detail.looking import Looking
from server.pages.kit import Viewing, kept, web_of
from server.pages.shared.opened import open_detail
from server.pages.sheet.context import sheet_page
from server.pages.sheet.saying import on_paper

router = APIRouter()


@router.get("/d/{detail_id}/sheet")
def page(request: Request, viewer: Viewing, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    settings = web_of(request).settings

    def make() -> tuple[str, object]:
        looking = Looking(
            snapshot=opened.snapshot,
            schedule=opened.schedule,
            detail=opened.snapshot.details[opened.detail_id],
            actor=viewer.actor,
            words=on_paper(viewer.language),
            now=opened.now,
        )
        return "sheet/page.html", sheet_page(looking, settings.base_url, settings.loopback)

    return kept(request, viewer, (opened.snapshot,), make, now=opened.now)
