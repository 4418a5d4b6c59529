"""Another date: shown with what it pushes, then agreed to or dropped."""

from dataclasses import replace

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command, changed
from server.core.changes.pushing import AgreePush
from server.core.refusals import Refusal
from server.core.ripple import ripple
from server.core.world import Activity
from server.pages.kit import Form, SuperViewing, press, render, row_id
from server.pages.push.context import push_page, told_page
from server.pages.push.reading import FIELDS, read
from server.pages.push.shown import PushShown, push_shown
from server.pages.shared.activity import activity_in
from server.pages.shared.opened import Opened, open_detail, open_project
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{detail_id}/push/{activity_id}")
def page(request: Request, viewer: SuperViewing, detail_id: str, activity_id: str) -> Response:
    opened = open_detail(request, viewer, detail_id)
    activity = activity_in(opened, activity_id)
    asked = {name: tuple(request.query_params.getlist(name)) for name in request.query_params}
    form = Form(asked)
    return _show(request, viewer, opened, activity, form, 200)


@router.post("/d/{detail_id}/push/{activity_id}")
def agree(
    request: Request, viewer: SuperViewing, form: Sent, detail_id: str, activity_id: str
) -> Response:
    opened = open_detail(request, viewer, detail_id)
    activity = activity_in(opened, activity_id)

    def commands() -> tuple[Command, ...]:
        asked = read(form, opened, opened.schedule, activity)
        cause = form.text("cause", most=1000)
        form.check()
        return (
            AgreePush(
                id=row_id(viewer, form),
                detail_id=detail_id,
                commands=asked.commands,
                shown=form.typed("shown"),
                cause=cause,
            ),
        )

    def again(form: Form, status: int) -> Response:
        now = open_detail(request, viewer, detail_id)
        return _show(request, viewer, now, activity_in(now, activity_id), form, status)

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        commands,
        to=f"/p/{opened.project_id}/told",
        again=again,
    )


@router.get("/p/{project_id}/told")
def told(request: Request, viewer: SuperViewing, project_id: str) -> Response:
    opened = open_project(request, viewer, project_id)
    return render(request, viewer, "push/told.html", told_page(opened), now=opened.now)


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    activity: Activity,
    form: Form,
    status: int,
) -> Response:
    schedule = opened.schedule
    shown = _shown(opened, viewer, activity, form) if form.typed("what") else None
    context = push_page(opened, schedule, activity, form, shown)
    return render(request, viewer, "push/page.html", context, now=opened.now, status=status)


def _shown(opened: Opened, viewer: Viewer, activity: Activity, form: Form) -> PushShown | None:
    """What it would push; None where it would be refused, and the form says why."""
    schedule, snapshot = opened.schedule, opened.snapshot
    # what was refused when it was sent is told once
    trial = replace(form, refusals=[])
    try:
        asked = read(trial, opened, schedule, activity)
        after = changed(snapshot, viewer.actor, asked.commands, opened.now)
    except Refusal as refusal:
        if not form.refusals:
            form.refuse(_led_back(refusal, form))
        return None
    fields = tuple((name, form.typed(name)) for name in FIELDS if form.typed(name))
    moved = ripple(snapshot, after, opened.status, schedule)
    return push_shown(opened, asked.said, moved, fields)


BESIDE = {
    "later": "days",
    "day": "until",
    "visit": "day",
    "more": "more",
    "takes": "takes",
    "done": "what",
    "soon": "what",
}


def _led_back(refusal: Refusal, form: Form) -> Refusal:
    """A refusal of the rules stands beside what was typed."""
    parts = getattr(refusal, "all", (refusal,))
    for part in parts:
        if part.field not in BESIDE.values():
            part.field = BESIDE.get(form.typed("what"), "what")
    return refusal
