"""The dates of a detail, and the presses that promise dates."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.bookings import AgreeDates
from server.pages.dates.context import promise_page
from server.pages.kit import Form, SuperViewing, press, render
from server.pages.shared.opened import open_detail
from server.pages.sign_in.routes import Sent

router = APIRouter()


@router.get("/d/{detail_id}/promise")
def promise(request: Request, viewer: SuperViewing, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    context = promise_page(opened, Form())
    return render(request, viewer, "dates/page.html", context, now=opened.now)


@router.post("/d/{detail_id}/promise")
def agree(request: Request, viewer: SuperViewing, form: Sent, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)

    def again(form: Form, status: int) -> Response:
        context = promise_page(opened, form)
        return render(request, viewer, "dates/page.html", context, now=opened.now, status=status)

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (AgreeDates(detail_id=detail_id, reason=form.text("reason")),),
        to=f"/d/{detail_id}",
        again=again,
    )
