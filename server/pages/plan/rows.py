"""Forms: rows of the order of work listed elsewhere, copied, moved to another detail."""

from collections.abc import Sequence
from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.changes.inputs import BadInput
from server.core.changes.matching import LOOKS_AT, MEASURED_FROM, carried
from server.core.changes.plan_rows import CopyActivities, MoveActivities, MoveActivity
from server.core.world import Activity, Detail, Snapshot
from server.pages.kit import press
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.activities import opened_at
from server.pages.plan.desk.showing import show_taken
from server.pages.plan.pressing import FormPage, ids_of, send, shown
from server.pages.shared.opened import Opened
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()

COPY, MOVE = "copy", "move"
DOES = {
    "puts in": "puts in",
    "covers": "hides",
    "opens": "opens up",
    "needs open": "needs open",
    LOOKS_AT: "looks at",
    MEASURED_FROM: "is measured from",
}


@dataclass(frozen=True)
class NotAlong:
    """What a row does to a layer that the other detail has not."""

    row: str
    does: str
    layer: str


@router.get("/d/{short}/plan/{activity_id}/copy")
def to_copy(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    return _show(request, viewer, opened, activity, _asked(request), 200, COPY)


@router.post("/d/{short}/plan/{activity_id}/copy")
def copy(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    return send(
        request, viewer, form, opened,
        lambda: CopyActivities(
            id=next(ids_of(viewer, form)),
            activity_ids=form.chosen("activity_ids"),
            to_detail_id=form.text("to_detail_id", needed=True, most=40),
            behind_id=form.text("behind_id", most=40) or None,
        ),
        lambda form, status: _show(request, viewer, opened, activity, form, status, COPY),
        _plan_of(opened, form),
    )  # fmt: skip


@router.get("/d/{short}/plan/{activity_id}/move")
def to_move(request: Request, viewer: SuperViewing, short: str, activity_id: str) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)
    return _show(request, viewer, opened, activity, _asked(request), 200, MOVE)


@router.post("/d/{short}/plan/{activity_id}/move")
def move(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened, activity = opened_at(request, viewer, short, activity_id)

    def command() -> Command:
        rows = form.chosen("activity_ids")
        to = form.text("to_detail_id", needed=True, most=40)
        behind = form.text("behind_id", most=40)
        if behind == "top":
            if to != short or len(rows) != 1:
                raise BadInput("input.not_a_choice", field="behind_id", chosen="top")
            return MoveActivity(activity_id=rows[0], behind_id=None)
        return MoveActivities(activity_ids=rows, to_detail_id=to, behind_id=behind or None)

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show(request, viewer, opened, activity, form, status, MOVE),
        _plan_of(opened, form),
    )  # fmt: skip


@router.post("/d/{short}/plan/{activity_id}/order")
def order(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    """One row up (`up`), down (`down`), or behind another (`behind_id`; empty: at the top)."""
    opened, activity = opened_at(request, viewer, short, activity_id)

    def commands() -> tuple[MoveActivity, ...]:
        behind = _behind(opened.snapshot.chain_of(short), activity, form)
        return (MoveActivity(activity_id=activity.id, behind_id=behind),)

    return press(
        request, viewer, form, opened.project_id, commands, to="",
        again=lambda form, status: _show(request, viewer, opened, activity, form, status, MOVE),
        done=lambda applied, said: show_taken(request, viewer, short, said),
    )  # fmt: skip


def _behind(rows: Sequence[Activity], activity: Activity, form: Form) -> str | None:
    others, index = [a.id for a in rows if a is not activity], rows.index(activity)
    if form.ticked("up"):
        return others[index - 2] if index > 1 else None
    if form.ticked("down"):
        return next(iter(others[index : index + 1] or others[-1:]), None)
    return form.text("behind_id", most=40) or None


def _asked(request: Request) -> Form:
    """What was chosen on the page before: which rows, and which detail they go to."""
    asked = request.query_params
    return Form({name: tuple(asked.getlist(name)) for name in asked})


def _plan_of(opened: Opened, form: Form) -> str:
    """The plan that the rows are in afterwards."""
    to = form.typed("to_detail_id")
    known = to in opened.snapshot.details
    return f"/d/{to if known else opened.detail_id}/plan"


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    activity: Activity,
    form: Form,
    status: int,
    what: str,
) -> Response:
    snapshot, short = opened.snapshot, opened.detail_id
    details = [d for d in snapshot.details.values() if d.ended is None]
    to = next((d for d in details if d.id == form.typed("to_detail_id")), snapshot.details[short])
    chosen = form.chosen("activity_ids") or (activity.id,)
    chain = snapshot.chain_of(short)
    rows = [a for a in chain if a.id in chosen]
    back = f"/d/{short}/plan/{activity.id}"
    page = FormPage(
        form=form,
        heading=f"{what.capitalize()} “{activity.name}”",
        above=snapshot.details[short].name,
        back=back,
        action=f"{back}/{what}",
        options={
            "to_detail_id": tuple((d.id, d.name) for d in details),
            "behind_id": _places(snapshot, to, rows, what, here=to.id == short),
        },
        about={
            "chain": tuple((a.id, a.name) for a in chain),
            "chosen": tuple(a.id for a in rows),
            "rows": tuple(a.name for a in rows),
            "to": to.id,
            "to_name": to.name,
            "here": to.id == short,
            "left": _left(snapshot, rows, to),
            "above": _above(chain, rows) if to.id == short else "",
            "order": f"{back}/order" if what == MOVE else "",
        },
    )
    return shown(request, viewer, f"plan/{what}.html", page, status)


def _above(chain: Sequence[Activity], rows: Sequence[Activity]) -> str:
    """What rows are listed behind now, as their form says it."""
    before = chain[: chain.index(rows[0])] if rows else ()
    return before[-1].id if before else "top"


def _places(
    snapshot: Snapshot, to: Detail, rows: Sequence[Activity], what: str, *, here: bool
) -> tuple[tuple[str, str], ...]:
    """Where in the list of a detail rows can be put."""
    others = [a for a in snapshot.chain_of(to.id) if what == COPY or a not in rows]
    behind = tuple((a.id, f"behind “{a.name}”") for a in others)
    if what == COPY:
        first = "right behind what is copied" if here else "as the last"
        return (("", first), *behind)
    top = (("top", "at the top"),) if here and len(rows) == 1 else ()
    return (("", "as the last"), *top, *behind)


def _left(snapshot: Snapshot, rows: Sequence[Activity], to: Detail) -> tuple[NotAlong, ...]:
    return tuple(
        NotAlong(a.name, DOES[one.verb], snapshot.layers[one.layer_id].name)
        for a in rows
        for one in carried(snapshot, a, to).left_out
    )
