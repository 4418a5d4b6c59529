"""Presses: a layer or a side typed on the desk."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.changes.plan import AddSide
from server.core.rights import Hidden
from server.core.world import Layer
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.desk import layer_cells
from server.pages.plan.desk.commands import layer_added, layer_changed
from server.pages.plan.desk.context import NEW
from server.pages.plan.desk.pressing import (
    Where,
    changed_in,
    press_desk,
    refuse_theirs,
    typed_in,
)
from server.pages.plan.pressing import ids_of
from server.pages.shared.opened import open_detail
from server.pages.sign_in.routes import Sent

router = APIRouter()


@router.post("/d/{short}/plan/desk/layers/new")
def add_layer(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    side = opened.snapshot.sides.get(form.typed("side_id"))
    if side is None or side.detail_id != short:
        raise Hidden("rights.hidden")
    typed = typed_in(form, layer_cells.COLUMNS)
    where = Where(f"{NEW}-{side.id}", typed, layer_cells.COLUMNS, layer_cells.COLUMN_OF)
    return press_desk(
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
    changed = changed_in(form, typed_in(form, layer_cells.COLUMNS), now)

    def commands() -> tuple[Command, ...]:
        refuse_theirs(request, opened, form, changed, now, layer.id)
        return layer_changed(opened.snapshot, layer, changed)

    where = Where(layer.id, changed, layer_cells.COLUMNS, layer_cells.COLUMN_OF)
    return press_desk(request, viewer, form, opened, commands, where)


@router.post("/d/{short}/plan/desk/sides")
def add_side(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)

    def commands() -> tuple[Command, ...]:
        name = form.text("side", needed=True, most=120)
        form.check()
        return (AddSide(id=next(ids_of(viewer, form)), detail_id=short, name=name),)

    where = Where("side", {"side": form.typed("side")}, ("side",), {"name": "side"})
    return press_desk(request, viewer, form, opened, commands, where)
