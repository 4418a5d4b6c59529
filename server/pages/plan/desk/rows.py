"""Presses: a row of the desk typed over, or added."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.refusals import message
from server.core.rights import Hidden
from server.pages.kit import is_partial
from server.pages.kit.forms import BadField, Form, Refusals
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.desk.cells import COLUMN_OF, COLUMNS, OF_KIND, Cells
from server.pages.plan.desk.commands import row_added, row_changed
from server.pages.plan.desk.context import NEW
from server.pages.plan.desk.meanwhile import who_since
from server.pages.plan.desk.pressing import (
    Where,
    changed_in,
    press_desk,
    refuse_theirs,
    typed_in,
)
from server.pages.plan.desk.showing import show_desk
from server.pages.plan.pressing import ids_of
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.post("/d/{short}/plan/desk/rows/new")
def add_row(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    kind = form.typed("kind", "task")
    kind = kind if kind in OF_KIND else "task"
    typed = typed_in(form, COLUMNS)
    wanted = {c: text for c, text in typed.items() if c in OF_KIND[kind]}
    behind = form.text("behind_id", most=40) or None
    needless = [c for c, text in typed.items() if c not in OF_KIND[kind] and text.strip()]

    def commands() -> tuple[Command, ...]:
        if needless:
            refused = (BadField("desk.not_of_kind", field=c, kind=kind) for c in needless)
            raise Refusals(tuple(refused))
        cells = Cells(opened.snapshot, short)
        return row_added(cells, kind, wanted, behind, ids_of(viewer, form))

    kept = {**typed, "kind": kind, "behind_id": behind or ""}
    return press_desk(request, viewer, form, opened, commands, Where(NEW, kept, COLUMNS, COLUMN_OF))


@router.post("/d/{short}/plan/desk/rows/{activity_id}")
def put_row(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened = open_detail(request, viewer, short)
    cells = Cells(opened.snapshot, short)
    activity = next((a for a in opened.snapshot.chain_of(short) if a.id == activity_id), None)
    if activity is None:
        return _row_gone(request, viewer, opened, form, activity_id)
    typed = typed_in(form, OF_KIND[activity.kind])
    now = cells.texts(activity)
    changed = changed_in(form, typed, now)

    def commands() -> tuple[Command, ...]:
        refuse_theirs(request, opened, form, changed, now, activity.id)
        return row_changed(cells, activity, changed, ids_of(viewer, form))

    where = Where(activity.id, changed, OF_KIND[activity.kind], COLUMN_OF)
    return press_desk(request, viewer, form, opened, commands, where)


def _row_gone(
    request: Request, viewer: Viewer, opened: Opened, form: Form, activity_id: str
) -> Response:
    gone = opened.snapshot.activities.get(activity_id)
    if gone is None or gone.detail_id != opened.detail_id:
        raise Hidden("rights.hidden")
    texts = [text for text in typed_in(form, COLUMNS).values() if text.strip()]
    said = message(
        "desk.row_gone", name=gone.name, who=who_since(request, opened, gone.id),
        typed=tuple(f"“{text}”" for text in texts) or ("–",),
    )  # fmt: skip
    status = 422 if is_partial(request) else 409
    return show_desk(request, viewer, opened, whole=(said,), status=status)
