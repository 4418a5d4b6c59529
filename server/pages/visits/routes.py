"""Asking a crew to come, and taking a visit back."""

from collections.abc import Callable
from contextlib import suppress
from datetime import datetime

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.changes.bookings import AskVisit, ChangeVisitWork, EndVisit
from server.core.refusals import Refusal
from server.core.rights import Hidden
from server.core.world import Activity, Booking
from server.pages.kit import Form, SuperViewing, press, render, row_id
from server.pages.push.brings import Brings, brings, unread
from server.pages.shared.opened import Opened, open_detail, open_where
from server.pages.sign_in.routes import Sent
from server.pages.visits.context import Beside, too_little, visit_page
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{detail_id}/visit")
def page(request: Request, viewer: SuperViewing, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    activity = _activity(opened, request.query_params.get("activity", ""))
    crew_id = request.query_params.get("crew", "")
    return _show(request, viewer, opened, activity, Form(), 200, crew_id)


@router.post("/d/{detail_id}/visit")
def ask(request: Request, viewer: SuperViewing, form: Sent, detail_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    activity = _activity(opened, form.typed("activity"))

    def commands() -> tuple[Command, ...]:
        return (_asked(viewer, form),)

    trial = Form(form.fields)
    with suppress(Refusal):
        if unread(form, brings(opened, viewer.actor, _asked(viewer, trial))):
            return _show(request, viewer, opened, activity, form, 422, form.typed("crew"))

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        commands,
        to=f"/d/{detail_id}",
        again=lambda form, status: _show(
            request, viewer, opened, activity, form, status, form.typed("crew")
        ),
    )


@router.get("/d/{detail_id}/visit/brings")
def brings_beside(request: Request, viewer: SuperViewing, detail_id: str) -> Response:
    """The notes that asking for what stands in the form would bring."""
    opened = open_detail(request, viewer, detail_id)
    asked = request.query_params
    form = Form({name: tuple(asked.getlist(name)) for name in asked})
    brought, says = Brings((), ""), tuple[str, ...]()
    with suppress(Refusal):
        visit = _asked(viewer, form)
        brought, says = brings(opened, viewer.actor, visit), too_little(opened, visit)
    return render(request, viewer, "visits/_brings.html", Beside(brought, says), now=opened.now)


@router.post("/visit/{booking_id}/work")
def work(request: Request, viewer: SuperViewing, form: Sent, booking_id: str) -> Response:
    def command() -> Command:
        return ChangeVisitWork(booking_id=booking_id, activity_ids=form.chosen("activity_ids"))

    return _of_visit(request, viewer, form, booking_id, command)


@router.post("/visit/{booking_id}/end")
def end(request: Request, viewer: SuperViewing, form: Sent, booking_id: str) -> Response:
    def command() -> Command:
        return EndVisit(booking_id=booking_id, reason=form.text("reason"))

    return _of_visit(request, viewer, form, booking_id, command)


def _of_visit(
    request: Request,
    viewer: Viewer,
    form: Form,
    booking_id: str,
    command: Callable[[], Command],
) -> Response:
    """A press about a visit that there is; it leads to the detail of its first work."""
    opened = open_where(request, viewer, Booking, booking_id)
    booking = opened.snapshot.bookings[booking_id]
    activity = opened.snapshot.activities[booking.activity_ids[0]]
    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (command(),),
        to=f"/d/{activity.detail_id}",
        again=lambda form, status: _show(
            request, viewer, opened, activity, form, status, booking.crew_id
        ),
    )


def _asked(viewer: Viewer, form: Form) -> AskVisit:
    start, finish = _span(form)
    chosen = form.chosen("activity_ids")
    return AskVisit(
        id=row_id(viewer, form),
        activity_ids=chosen,
        start=start,
        finish=finish,
        crew_id=form.text("crew", most=40) or None,
    )


def _span(form: Form) -> tuple[datetime, datetime]:
    """From and to; what is missing is refused with the others."""
    form.text("start", needed=True)
    form.text("finish", needed=True)
    start, finish = form.moment("start"), form.moment("finish")
    form.check()
    assert start is not None
    assert finish is not None
    return start, finish


def _activity(opened: Opened, id: str) -> Activity:
    found = opened.snapshot.activities.get(id)
    if found is None or found.detail_id != opened.detail_id or found.kind != "task":
        raise Hidden("rights.hidden")
    return found


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    activity: Activity,
    form: Form,
    status: int,
    crew_id: str,
) -> Response:
    context = visit_page(opened, viewer.actor, activity, form, crew_id)
    return render(request, viewer, "visits/page.html", context, now=opened.now, status=status)
