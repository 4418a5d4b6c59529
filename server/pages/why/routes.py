"""The fold of a forecast date, for whoever may see its detail."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.kit import Viewing, is_partial, kept
from server.pages.shared.activity import activity_in
from server.pages.shared.opened import open_detail
from server.pages.why.context import why_page

router = APIRouter()


@router.get("/d/{detail_id}/a/{activity_id}/why")
def why(request: Request, viewer: Viewing, detail_id: str, activity_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    activity = activity_in(opened, activity_id)
    template = "why/_fold.html" if is_partial(request) else "why/page.html"
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: (template, why_page(opened, viewer, activity)),
        now=opened.now,
    )
