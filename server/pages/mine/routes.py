"""A crew's page, its answers to visits, and its own language and units."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.changes.bookings import AnswerVisit
from server.core.changes.people import ChangeOwnWays
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
    activity = opened.snapshot.activities[opened.snapshot.bookings[booking_id].activity_ids[0]]

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

    def again(form: Form, status: int) -> Response:
        if viewer.actor.role == "super":
            context = visit_page(opened, activity, form)
            return render(
                request, viewer, "visits/page.html", context, now=opened.now, status=status
            )
        page = mine_page(_opened(request, viewer), viewer.person, form, booking_id)
        return render(request, viewer, "mine/page.html", page, now=opened.now, status=status)

    to = f"/d/{activity.detail_id}" if viewer.actor.role == "super" else "/me"
    return press(request, viewer, form, opened.project_id, commands, to=to, again=again)


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


def _opened(request: Request, viewer: Viewer) -> tuple[Opened, ...]:
    projects = web_of(request).store.projects(viewer.company_id, given_to=viewer.person.id)
    return tuple(
        open_project(request, viewer, project.id)
        for project in projects
        if viewer.may_open(project.id)
    )
