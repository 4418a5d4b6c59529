"""The deliveries of a house, and the presses that record how far one has come."""

from datetime import datetime

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.changes.actuals import Arrive, CountOver, Order
from server.core.changes.stages import StageDelivery
from server.core.rights import Hidden, details_seen
from server.pages.kit import Form, Viewing, kept, press, render
from server.pages.shared.opened import Opened, open_project
from server.pages.sign_in.routes import Sent
from server.pages.site.deliveries_shown import deliveries_page
from server.people.viewer import Viewer

router = APIRouter()
OTHER = "other"
MOST = 1000


@router.get("/p/{project_id}/deliveries")
def page(request: Request, viewer: Viewing, project_id: str) -> Response:
    opened = open_project(request, viewer, project_id)
    asked = request.query_params
    only, whole = asked.get("detail", ""), asked.get("all") == "yes"
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: (
            "site/deliveries.html",
            deliveries_page(opened, viewer, only=only, whole=whole),
        ),
        now=opened.now,
    )


@router.post("/p/{project_id}/deliveries/{activity_id}")
def record(
    request: Request, viewer: Viewing, form: Sent, project_id: str, activity_id: str
) -> Response:
    opened = open_project(request, viewer, project_id)
    found = opened.snapshot.activities.get(activity_id)
    if found is None or found.detail_id not in details_seen(opened.snapshot, viewer.actor):
        raise Hidden("rights.hidden")
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (_command(form, activity_id, opened.now),),
        to=f"/p/{project_id}/deliveries",
        again=lambda form, status: _again(request, viewer, opened, form, activity_id, status),
    )


def _command(form: Form, id: str, now: datetime) -> Command:
    """What was pressed, or chosen beside it; now, if no other time is given."""
    stage = form.text("stage", most=20)
    if stage == OTHER:
        stage = form.text(f"stage_{id}", most=20)
    when = form.moment(f"when_{id}") or now
    match stage:
        case "ordered":
            promised = form.moment(f"promised_{id}")
            return Order(activity_id=id, when=when, promised=promised)
        case "finished":
            return Arrive(activity_id=id, when=when)
        case "counted":
            return CountOver(activity_id=id, note=form.text(f"note_{id}", most=MOST))
    return StageDelivery(activity_id=id, stage=stage, when=when)


def _again(
    request: Request, viewer: Viewer, opened: Opened, form: Form, id: str, status: int
) -> Response:
    """The page with what is wrong beside the fields of this delivery."""
    for refusal in form.all_refusals:
        if refusal.field is not None and not refusal.field.endswith(f"_{id}"):
            refusal.field = f"{refusal.field}_{id}"
    context = deliveries_page(opened, viewer, form, id)
    return render(request, viewer, "site/deliveries.html", context, now=opened.now, status=status)
