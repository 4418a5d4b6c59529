"""The press that mends a note: made at once where it pushes nothing, else shown first."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command, changed
from server.core.changes.pushing import AgreePush
from server.core.refusals import Refusal
from server.core.ripple import Ripple, ripple
from server.core.warnings import Mend, Warning, find
from server.pages.kit import Form, SuperViewing, press, render, row_id
from server.pages.push.context import MendPage
from server.pages.push.shown import push_shown
from server.pages.shared.opened import Opened, open_project
from server.pages.sign_in.context import inside
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.store import Applied

router = APIRouter()

SENT = ("note", "mend", "back")


class NoteGone(Refusal):
    """The note a press was about is not there any more."""


@router.post("/p/{project_id}/mend")
def mend(request: Request, viewer: SuperViewing, form: Sent, project_id: str) -> Response:
    opened = open_project(request, viewer, project_id)
    back = inside(form.typed("back", "/"))
    if not _agreed(form):
        _, chosen = _chosen(opened, form)
        if _pushed(opened, viewer, chosen).pushed.moves_something:
            return _show(request, viewer, opened, form, 200)

    def commands() -> tuple[Command, ...]:
        warning, chosen = _chosen(opened, form)
        if not _agreed(form):
            return chosen.commands
        return (
            AgreePush(
                id=row_id(viewer, form),
                detail_id=warning.detail_id or next(iter(opened.snapshot.details)),
                commands=chosen.commands,
                shown=form.typed("shown"),
                cause=form.text("cause", most=1000),
            ),
        )

    def again(form: Form, status: int) -> Response:
        if not _agreed(form):
            raise form.all_refusals[0]
        now = open_project(request, viewer, project_id)
        return _show(request, viewer, now, form, status)

    def after(applied: Applied) -> str:
        unheard = any(telling.heard is None for telling in applied.after.tellings.values())
        return f"/p/{project_id}/told" if _agreed(form) and unheard else back

    return press(request, viewer, form, project_id, commands, to=after, again=again)


def _agreed(form: Form) -> bool:
    """Whether what it pushes has been shown."""
    return bool(form.typed("shown"))


def _chosen(opened: Opened, form: Form) -> tuple[Warning, Mend]:
    """The note that is meant and the one of its mends; `NoteGone` where it has gone."""
    number = form.whole("mend", 0, most=9)
    meant = form.typed("note")
    for warning in find(
        opened.snapshot, opened.schedule, lambda one: one.identity == meant, plan=True
    ):
        if number < len(warning.mends) and warning.mends[number].commands:
            return warning, warning.mends[number]
    raise NoteGone("note.gone")


def _pushed(opened: Opened, viewer: Viewer, chosen: Mend) -> Ripple:
    after = changed(opened.snapshot, viewer.actor, chosen.commands, opened.now)
    return ripple(opened.snapshot, after, opened.status, opened.schedule)


def _show(request: Request, viewer: Viewer, opened: Opened, form: Form, status: int) -> Response:
    warning, chosen = _chosen(opened, form)
    moved = _pushed(opened, viewer, chosen)
    fields = tuple((name, form.typed(name)) for name in SENT)
    page = MendPage(
        form=form,
        project_id=opened.project_id,
        house=opened.snapshot.project.name,
        note=opened.words.say(warning.sentence, now=opened.now),
        shown=push_shown(opened, chosen.label, moved, fields),
        back=inside(form.typed("back", "/")),
    )
    return render(request, viewer, "push/mend.html", page, now=opened.now, status=status)
