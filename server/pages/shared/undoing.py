"""The two presses that undo and do again, and a refusal with whoever changed it since."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.undoing import Redo, Undo
from server.core.refusals import Message
from server.core.world import Activity, HoldPoint, Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.press import press
from server.pages.kit.web import web_of
from server.people.viewer import Viewer
from server.store import Applied, ChangedBySomebody, LogRow, of_what


@dataclass(frozen=True)
class TurnShown:
    """One press: its word (a message id), what it would put back, and when that was done."""

    name: str
    action: str
    entry: str
    press: str
    what: Message
    at: datetime


@dataclass(frozen=True)
class UndoShown:
    """What this person can undo and do again; why not, and a page of what is in the way."""

    turns: tuple[TurnShown, ...]
    refused: tuple[Message, ...]
    look: str


def undo_shown(
    request: Request,
    viewer: Viewer,
    project_id: str | None,
    at: str,
    form: Form | None = None,
) -> UndoShown:
    """The presses for a project, or (None) for the company alone, printed by `parts/_undo.html`.

    They are sent to `{at}/undo` and `{at}/redo`. `form` is one of them that was refused.
    """
    store = web_of(request).store
    turns = store.turns(viewer.person.id, viewer.company_id, project_id)
    pressed = (("undo", "undo.press", turns.undo), ("redo", "undo.press_again", turns.redo))
    refusals = form.all_refusals if form else ()
    by = next((r for r in refusals if isinstance(r, ChangedBySomebody)), None)
    return UndoShown(
        turns=tuple(_turn(at, name, said, row) for name, said, row in pressed if row),
        refused=tuple(refusal.message for refusal in refusals),
        look=_page_of(store.snapshot(project_id), by) if by and project_id else "",
    )


def press_undo(
    request: Request,
    viewer: Viewer,
    form: Form,
    project_id: str | None,
    command: type[Undo] | type[Redo],
    to: str | Callable[[Applied], str],
    again: Callable[[Form, int], Response],
    done: Callable[[Applied, Message], Response] | None = None,
) -> Response:
    """Undoes, or does again, the `entry` that the form names; see `kit.press.press`."""
    return press(
        request,
        viewer,
        form,
        project_id,
        lambda: (command(entry_id=form.text("entry", needed=True, most=40)),),
        to=to,
        again=again,
        done=done,
    )


def _turn(at: str, name: str, press: str, row: LogRow) -> TurnShown:
    return TurnShown(name, f"{at}/{name}", row.id, press, of_what(row), row.at)


def _page_of(snapshot: Snapshot, refusal: ChangedBySomebody) -> str:
    """The page of the row that was changed since, or of its detail."""
    row = refusal.row
    chain = {activity.id for activity in snapshot.chain}
    if isinstance(row, HoldPoint) and row.activity_id in chain:
        return f"/h/{row.id}"
    if isinstance(row, Activity) and row.id in chain:
        return f"/d/{row.detail_id}/a/{row.id}"
    details = (snapshot.details.get(id) for id in refusal.entry.detail_ids)
    return next((f"/d/{d.id}" for d in details if d is not None and d.ended is None), "")
