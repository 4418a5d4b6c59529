"""The owner's view, and the answer to a decision."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.changes.actuals import Answer
from server.core.world import Activity
from server.pages.kit import Form, Viewing, kept, press, render, web_of
from server.pages.owner.context import OwnerPage, house_seen
from server.pages.shared.opened import Opened, open_project, open_where
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/v")
def page(request: Request, viewer: Viewing) -> Response:
    if viewer.actor.role == "crew":
        return RedirectResponse("/me", status_code=303)
    opened = _opened(request, viewer)
    store = web_of(request).store
    company = store.company_snapshot(viewer.company_id).company
    return kept(
        request,
        viewer,
        tuple(one.snapshot for one in opened),
        lambda: ("owner/page.html", _page(opened, viewer, Form(), "")),
        now=opened[0].now if opened else store.now(company),
    )


@router.post("/v/{activity_id}/answer")
def answer(request: Request, viewer: Viewing, form: Sent, activity_id: str) -> Response:
    opened = open_where(request, viewer, Activity, activity_id)

    def again(form: Form, status: int) -> Response:
        page = _page(_opened(request, viewer), viewer, form, activity_id)
        return render(request, viewer, "owner/page.html", page, now=opened.now, status=status)

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (Answer(activity_id=activity_id, answer=form.text("answer")),),
        to="/v",
        again=again,
    )


def _page(opened: tuple[Opened, ...], viewer: Viewer, form: Form, refused_id: str) -> OwnerPage:
    return OwnerPage(tuple(house_seen(one, viewer) for one in opened), form, refused_id)


def _opened(request: Request, viewer: Viewer) -> tuple[Opened, ...]:
    given_to = None if viewer.actor.role == "super" else viewer.person.id
    projects = web_of(request).store.projects(viewer.company_id, given_to=given_to)
    return tuple(
        open_project(request, viewer, project.id)
        for project in projects
        if viewer.may_open(project.id)
    )
