"""Presses of the desk: each answers with the desk as it then is, and what was refused in place."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command, change
from server.core.changes.plan import AddSide
from server.core.refusals import Message, Refusal, message
from server.core.rights import Hidden
from server.core.world import Layer
from server.pages.kit import is_partial, press, render
from server.pages.kit.forms import BadField, Form, Refusals
from server.pages.kit.render import HEADERS
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.desk import layer_cells
from server.pages.plan.desk.cells import COLUMN_OF, COLUMNS, OF_KIND, Cells
from server.pages.plan.desk.commands import layer_added, layer_changed, row_added, row_changed
from server.pages.plan.desk.meanwhile import who_since
from server.pages.plan.desk.showing import show_desk, show_taken
from server.pages.plan.desk.shown import NEW, Refused, standing_of
from server.pages.plan.desk.suggesting import Offer, offered, offered_of_layer
from server.pages.plan.pressing import ids_of
from server.pages.shared.buildup import sides_shown
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
LONGEST = 600


@router.get("/d/{short}/plan")
def page(request: Request, viewer: SuperViewing, short: str) -> Response:
    return show_desk(request, viewer, open_detail(request, viewer, short))


@router.get("/d/{short}/plan/desk")
def again(request: Request, viewer: SuperViewing, short: str) -> Response:
    """The desk as it is now, or 304 if that is what the browser has."""
    opened = open_detail(request, viewer, short)
    tag = standing_of(opened)
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers={**HEADERS, "ETag": tag})
    return show_desk(request, viewer, opened)


@router.post("/d/{short}/plan/desk/rows/new")
def add_row(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    kind = form.typed("kind", "task")
    kind = kind if kind in OF_KIND else "task"
    typed = _typed(form, COLUMNS)
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
    return _press(request, viewer, form, opened, commands, _Where(NEW, kept, COLUMNS, COLUMN_OF))


@router.post("/d/{short}/plan/desk/rows/{activity_id}")
def put_row(
    request: Request, viewer: SuperViewing, form: Sent, short: str, activity_id: str
) -> Response:
    opened = open_detail(request, viewer, short)
    cells = Cells(opened.snapshot, short)
    activity = next((a for a in opened.snapshot.chain_of(short) if a.id == activity_id), None)
    if activity is None:
        return _row_gone(request, viewer, opened, form, activity_id)
    typed = _typed(form, OF_KIND[activity.kind])
    now = cells.texts(activity)
    changed = _changed(form, typed, now)

    def commands() -> tuple[Command, ...]:
        _not_theirs(request, opened, form, changed, now, activity.id)
        return row_changed(cells, activity, changed, ids_of(viewer, form))

    where = _Where(activity.id, changed, OF_KIND[activity.kind], COLUMN_OF)
    return _press(request, viewer, form, opened, commands, where)


@router.post("/d/{short}/plan/desk/layers/new")
def add_layer(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    side = opened.snapshot.sides.get(form.typed("side_id"))
    if side is None or side.detail_id != short:
        raise Hidden("rights.hidden")
    typed = _typed(form, layer_cells.COLUMNS)
    where = _Where(f"{NEW}-{side.id}", typed, layer_cells.COLUMNS, layer_cells.COLUMN_OF)
    return _press(
        request, viewer, form, opened,
        lambda: layer_added(opened.snapshot, side, typed, next(ids_of(viewer, form))), where,
    )  # fmt: skip


@router.post("/d/{short}/plan/desk/layers/{layer_id}")
def put_layer(
    request: Request, viewer: SuperViewing, form: Sent, short: str, layer_id: str
) -> Response:
    opened = open_detail(request, viewer, short)
    layer: Layer | None = opened.snapshot.layers.get(layer_id)
    if layer is None or layer.detail_id != short or layer.ended is not None:
        raise Hidden("rights.hidden")
    now = layer_cells.texts(opened.snapshot, layer)
    changed = _changed(form, _typed(form, layer_cells.COLUMNS), now)

    def commands() -> tuple[Command, ...]:
        _not_theirs(request, opened, form, changed, now, layer.id)
        return layer_changed(opened.snapshot, layer, changed)

    where = _Where(layer.id, changed, layer_cells.COLUMNS, layer_cells.COLUMN_OF)
    return _press(request, viewer, form, opened, commands, where)


@router.post("/d/{short}/plan/desk/sides")
def add_side(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)

    def commands() -> tuple[Command, ...]:
        name = form.text("side", needed=True, most=120)
        form.check()
        return (AddSide(id=next(ids_of(viewer, form)), detail_id=short, name=name),)

    where = _Where("side", {"side": form.typed("side")}, ("side",), {"name": "side"})
    return _press(request, viewer, form, opened, commands, where)


@router.get("/d/{short}/plan/desk/drawn")
def drawn(request: Request, viewer: SuperViewing, short: str) -> Response:
    """A side with the layer in it that is being typed, before it is added."""
    opened = open_detail(request, viewer, short)
    query = request.query_params
    side = opened.snapshot.sides.get(query.get("side_id", ""))
    if side is None or side.detail_id != short:
        raise Hidden("rights.hidden")
    snapshot = opened.snapshot
    typed = {c: query.get(c, "")[:LONGEST] for c in layer_cells.COLUMNS}
    try:
        for command in layer_added(snapshot, side, typed, "drawn"):
            snapshot = change(snapshot, viewer.actor, command, opened.now).after
    except Refusal:
        snapshot = opened.snapshot
    shown = sides_shown(snapshot, opened.schedule, short, opened.words, opened.now, press=True)
    figure = next((s for s in shown if s.id == side.id), None)
    return render(request, viewer, "plan/_drawn.html", _Figure(side.id, figure))


@router.get("/d/{short}/plan/desk/suggest")
def suggest(
    request: Request,
    viewer: SuperViewing,
    short: str,
    column: Annotated[str, Query()],
    kind: Annotated[str, Query()] = "task",
    typed: Annotated[str, Query()] = "",
    row: Annotated[str, Query()] = "",
    side: Annotated[str, Query()] = "",
) -> Response:
    """What a cell may go on to say."""
    opened = open_detail(request, viewer, short)
    typed = typed[:LONGEST]
    if side:
        offers = offered_of_layer(opened.snapshot, short, side, column, typed, row)
    else:
        offers = offered(Cells(opened.snapshot, short), kind, column, typed, row)
    return render(request, viewer, "plan/_offers.html", _Offers(offers))


@dataclass(frozen=True)
class _Figure:
    side_id: str
    drawn: object


@dataclass(frozen=True)
class _Offers:
    offers: tuple[Offer, ...]


@dataclass(frozen=True)
class _Where:
    """Where what was typed stands: which row, the texts, and the column of each refused fact.

    What belongs to no column is said in the first.
    """

    id: str
    typed: Mapping[str, str]
    columns: tuple[str, ...]
    column_of: Mapping[str, str]

    def refused(self, form: Form) -> tuple[Refused, tuple[Message, ...]]:
        """What is wrong by column; what belongs to none of them is about the whole."""
        wrong: dict[str, tuple[Message, ...]] = {}
        whole: list[Message] = []
        for refusal in form.all_refusals:
            if refusal.field is None:
                whole.append(refusal.message)
                continue
            column = self.column_of.get(refusal.field, refusal.field)
            column = column if column in self.columns else self.columns[0]
            wrong[column] = (*wrong.get(column, ()), refusal.message)
        return Refused(self.id, self.typed, wrong), tuple(whole)


def _press(
    request: Request,
    viewer: Viewer,
    form: Form,
    opened: Opened,
    commands: Callable[[], tuple[Command, ...]],
    where: _Where,
) -> Response:
    short = opened.detail_id

    def once_more(form: Form, status: int) -> Response:
        refused, whole = where.refused(form)
        now = open_detail(request, viewer, short)
        return show_desk(request, viewer, now, refused, whole, status=status)

    made: list[tuple[Command, ...]] = []

    def asked() -> tuple[Command, ...]:
        made.append(commands())
        return made[0]

    try:
        if not asked():
            return show_taken(request, viewer, short, None)
    except Refusal as refusal:
        form.refuse(refusal)
    return press(
        request, viewer, form, opened.project_id, lambda: made[0] if made else (),
        to="", again=once_more,
        done=lambda applied, said: show_taken(request, viewer, short, said),
    )  # fmt: skip


def _typed(form: Form, columns: tuple[str, ...]) -> dict[str, str]:
    return {c: form.typed(c)[:LONGEST] for c in columns if c in form.fields}


def _changed(form: Form, typed: Mapping[str, str], now: Mapping[str, str]) -> dict[str, str]:
    """What was typed over what was shown; a cell that says what is so already is no change."""
    return {
        column: text
        for column, text in typed.items()
        if _plain(text)
        not in (_plain(form.typed(f"was_{column}", now[column])), _plain(now[column]))
    }


def _not_theirs(
    request: Request,
    opened: Opened,
    form: Form,
    changed: Mapping[str, str],
    now: Mapping[str, str],
    id: str,
) -> None:
    """Refuses to write over what somebody else has made of a cell since it was shown."""
    refused = []
    for column in changed:
        was = form.typed(f"was_{column}", now[column])
        if _plain(was) != _plain(now[column]):
            who = who_since(request, opened, id)
            refused.append(
                BadField("desk.changed_meanwhile", field=column, who=who, now=now[column] or "–")
            )
    if refused:
        raise Refusals(tuple(refused))


def _row_gone(
    request: Request, viewer: Viewer, opened: Opened, form: Form, activity_id: str
) -> Response:
    gone = opened.snapshot.activities.get(activity_id)
    if gone is None or gone.detail_id != opened.detail_id:
        raise Hidden("rights.hidden")
    texts = [text for text in _typed(form, COLUMNS).values() if text.strip()]
    said = message(
        "desk.row_gone", name=gone.name, who=who_since(request, opened, gone.id),
        typed=tuple(f"“{text}”" for text in texts) or ("–",),
    )  # fmt: skip
    status = 422 if is_partial(request) else 409
    return show_desk(request, viewer, opened, whole=(said,), status=status)


def _plain(text: str) -> str:
    return " ".join(text.split())
