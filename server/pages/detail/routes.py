"""The page of a detail, the small page of one activity, and the presses that record."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.rights import Hidden
from server.core.world import Activity
from server.pages.detail.activity import activity_page
from server.pages.detail.commands import READ, lead_back
from server.pages.detail.context import detail_page
from server.pages.detail.looking import Looking
from server.pages.kit import Form, Viewing, is_partial, kept, press, render
from server.pages.shared.activity import activity_in
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{detail_id}")
def page(request: Request, viewer: Viewing, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: ("detail/page.html", detail_page(_looking(opened, viewer))),
        now=opened.now,
    )


@router.get("/d/{detail_id}/a/{activity_id}")
def activity(request: Request, viewer: Viewing, detail_id: str, activity_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    found = activity_in(opened, activity_id)
    return _show(request, viewer, opened, found, {}, 200)


@router.post("/d/{detail_id}/a/{activity_id}/{what}")
def record(
    request: Request, viewer: Viewing, form: Sent, detail_id: str, activity_id: str, what: str
) -> Response:
    opened = open_detail(request, viewer, detail_id)
    found = activity_in(opened, activity_id)
    if what not in READ:
        raise Hidden("rights.hidden")

    def once_more(form: Form, status: int) -> Response:
        lead_back(form, what, asks_anyway=viewer.actor.role == "super")
        now = open_detail(request, viewer, detail_id)
        return _show(request, viewer, now, activity_in(now, activity_id), {what: form}, status)

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (READ[what](form, found, opened.now),),
        to=f"/d/{detail_id}",
        again=once_more,
    )


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    activity: Activity,
    forms: dict[str, Form],
    status: int,
) -> Response:
    """The page of an activity, or its main part for htmx, which only takes in 200 and 422."""
    context = activity_page(_looking(opened, viewer), activity, forms)
    if is_partial(request):
        status = min(status, 422)
        return render(
            request, viewer, "detail/_activity.html", context, now=opened.now, status=status
        )
    return render(request, viewer, "detail/activity.html", context, now=opened.now, status=status)


def _looking(opened: Opened, viewer: Viewer) -> Looking:
    return Looking(
        snapshot=opened.snapshot,
        schedule=opened.schedule,
        detail=opened.snapshot.details[opened.detail_id],
        actor=viewer.actor,
        words=opened.words,
        now=opened.now,
    )
