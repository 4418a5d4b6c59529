"""A crew's page, its answers to visits, and its own language and units."""

from collections.abc import Callable

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.changes import Command
from server.core.changes.bookings import AnswerVisit, WasteVisit
from server.core.changes.people import ChangeOwnWays
from server.core.changes.pushing import Hear
from server.core.rights import NotTheirs
from server.core.world import Booking
from server.pages.kit import Form, Viewing, kept, press, render, web_of
from server.pages.mine.context import mine_page
from server.pages.shared.opened import Opened, open_project, open_where
from server.pages.sign_in.routes import Sent
from server.pages.visits.context import visit_page
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/me")
def page(request: Request, viewer: Viewing) -> Response:
    if viewer.actor.role != "crew":
        return RedirectResponse("/" if viewer.actor.role == "super" else "/v", status_code=303)
    opened = _opened(request, viewer)
    store = web_of(request).store
    company = store.company_snapshot(viewer.company_id).company
    return kept(
        request,
        viewer,
        tuple(one.snapshot for one in opened),
        lambda: ("mine/page.html", mine_page(opened, viewer.person, Form(), "")),
        now=opened[0].now if opened else store.now(company),
    )


@router.post("/visit/{booking_id}/answer")
def answer(request: Request, viewer: Viewing, form: Sent, booking_id: str) -> Response:
    opened = open_where(request, viewer, Booking, booking_id)

    def commands() -> tuple[AnswerVisit, ...]:
        coming = form.typed("answer") == "coming"
        return (
            AnswerVisit(
                booking_id=booking_id,
                coming=coming,
                other_day=None if coming else form.moment("other_day"),
                reason=form.text("reason"),
                by_phone=viewer.actor.role == "super",
            ),
        )

    return _of_visit(request, viewer, form, opened, booking_id, booking_id, commands)


@router.post("/visit/{booking_id}/wasted")
def wasted(request: Request, viewer: Viewing, form: Sent, booking_id: str) -> Response:
    """The crew came and could not work."""
    opened = open_where(request, viewer, Booking, booking_id)

    def commands() -> tuple[WasteVisit, ...]:
        return (WasteVisit(booking_id=booking_id, why=form.text("why", most=300)),)

    refused_id = f"wasted {booking_id}"
    return _of_visit(request, viewer, form, opened, booking_id, refused_id, commands)


@router.post("/me/heard")
def heard(request: Request, viewer: Viewing, form: Sent) -> Response:
    """The crew has seen what has changed for it in a house."""
    if viewer.actor.role != "crew":
        raise NotTheirs("rights.role")
    opened = open_project(request, viewer, form.typed("project_id"))

    def again(form: Form, status: int) -> Response:
        page = mine_page(_opened(request, viewer), viewer.person, form, "")
        return render(request, viewer, "mine/page.html", page, now=opened.now, status=status)

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (Hear(telling_ids=form.chosen("telling_ids")),),
        to="/me",
        again=again,
    )


@router.post("/me/ways")
def ways(request: Request, viewer: Viewing, form: Sent) -> Response:
    """The language and the units of the person's own pages."""

    def again(form: Form, status: int) -> Response:
        if viewer.actor.role != "crew":
            raise form.all_refusals[0]
        page = mine_page(_opened(request, viewer), viewer.person, form, "")
        return render(request, viewer, "mine/page.html", page, status=status)

    return press(
        request,
        viewer,
        form,
        None,
        lambda: (
            ChangeOwnWays(
                person_id=viewer.person.id,
                language=form.text("language", most=10) or viewer.person.language,
                units=form.text("units", most=4) or viewer.person.units,
            ),
        ),
        to="/me",
        again=again,
    )


def _of_visit(
    request: Request,
    viewer: Viewer,
    form: Form,
    opened: Opened,
    booking_id: str,
    refused_id: str,
    commands: Callable[[], tuple[Command, ...]],
) -> Response:
    """A press at a visit, by its crew or by the super as told; each is led back to their page."""
    booking = opened.snapshot.bookings[booking_id]
    activity = opened.snapshot.activities[booking.activity_ids[0]]
    by_super = viewer.actor.role == "super"

    def again(form: Form, status: int) -> Response:
        if by_super:
            context = visit_page(opened, viewer.actor, activity, form, booking.crew_id)
            return render(
                request, viewer, "visits/page.html", context, now=opened.now, status=status
            )
        page = mine_page(_opened(request, viewer), viewer.person, form, refused_id)
        return render(request, viewer, "mine/page.html", page, now=opened.now, status=status)

    to = f"/d/{activity.detail_id}" if by_super else "/me"
    return press(request, viewer, form, opened.project_id, commands, to=to, again=again)


def _opened(request: Request, viewer: Viewer) -> tuple[Opened, ...]:
    projects = web_of(request).store.projects(viewer.company_id, given_to=viewer.person.id)
    return tuple(
        open_project(request, viewer, project.id)
        for project in projects
        if viewer.may_open(project.id)
    )
