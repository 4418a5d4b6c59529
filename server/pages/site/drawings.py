"""The drawings of a detail: whoever sees the detail looks, the super adds."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.actuals import AddSheet
from server.pages.kit import Form, Viewing, kept, press, render
from server.pages.plan.pressing import ids_of
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.pages.site.drawings_shown import drawings_page
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{detail_id}/drawings")
def page(request: Request, viewer: Viewing, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    replaces = request.query_params.get("replaces", "")
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: (
            "site/drawings.html",
            drawings_page(opened, viewer.actor.role, Form(), replaces),
        ),
        now=opened.now,
    )


@router.post("/d/{detail_id}/drawings")
def add(request: Request, viewer: Viewing, form: Sent, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)

    def command() -> AddSheet:
        return AddSheet(
            id=next(ids_of(viewer, form)),
            detail_id=detail_id,
            number=form.text("number", needed=True, most=40),
            revision=form.text("revision", needed=True, most=20),
            title=form.text("title", most=120),
            dated=form.day("dated"),
            replaces_id=form.text("replaces_id", most=40) or None,
        )

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (command(),),
        to=f"/d/{detail_id}/drawings",
        again=lambda form, status: _again(request, viewer, opened, form, status),
    )


def _again(request: Request, viewer: Viewer, opened: Opened, form: Form, status: int) -> Response:
    for refusal in form.all_refusals:
        if refusal.field in ("replaces_id", "detail_id"):
            refusal.field = None
    context = drawings_page(opened, viewer.actor.role, form, form.typed("replaces_id"))
    return render(request, viewer, "site/drawings.html", context, now=opened.now, status=status)
