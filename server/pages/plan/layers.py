"""Forms: sides and layers of a detail."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan import AddLayer, AddSide, ChangeLayer, EndLayer
from server.core.changes.rules_plan_layers import layers_of
from server.core.rights import Hidden
from server.core.world import Layer, Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.context import layers_of_detail
from server.pages.plan.layer_form import filled, read_layer
from server.pages.plan.pressing import FormPage, ids_of, seen, send, shown
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{short}/plan/sides/new")
def new_side(request: Request, viewer: SuperViewing, short: str) -> Response:
    return _show_side(request, viewer, open_detail(request, viewer, short), Form(), 200)


@router.post("/d/{short}/plan/sides/new")
def add_side(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    return send(
        request, viewer, form, opened,
        lambda: AddSide(
            id=next(ids_of(viewer, form)),
            detail_id=short,
            name=form.text("name", needed=True, most=120),
        ),
        lambda form, status: _show_side(request, viewer, opened, form, status),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.get("/d/{short}/plan/layers/new")
def new_layer(
    request: Request, viewer: SuperViewing, short: str, side: Annotated[str, Query()] = ""
) -> Response:
    opened = open_detail(request, viewer, short)
    over = [x.id for x in layers_of_detail(opened.snapshot, short) if x.side_id == side]
    start = Form({"side_id": (side,), "over_id": tuple(over[-1:])})
    return show_layer(request, viewer, opened, start, 200, side)


@router.post("/d/{short}/plan/layers/new")
def add_layer(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    side = form.typed("side_id")

    def command() -> AddLayer:
        known = opened.snapshot.sides.get(side)
        if known is None or known.detail_id != short:
            raise Hidden("rights.hidden")
        return AddLayer(
            id=next(ids_of(viewer, form)),
            side_id=side,
            facts=read_layer(form),
            over_id=form.text("over_id", most=40) or None,
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: show_layer(request, viewer, opened, form, status, side),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.get("/d/{short}/plan/layers/{layer_id}")
def one(request: Request, viewer: SuperViewing, short: str, layer_id: str) -> Response:
    opened = open_detail(request, viewer, short)
    layer = layer_there(opened, layer_id)
    return show_layer(request, viewer, opened, Form(filled(layer)), 200, layer.side_id, layer)


@router.post("/d/{short}/plan/layers/{layer_id}")
def put_right(
    request: Request, viewer: SuperViewing, form: Sent, short: str, layer_id: str
) -> Response:
    opened = open_detail(request, viewer, short)
    layer = layer_there(opened, layer_id)

    def command() -> ChangeLayer | EndLayer:
        if form.ticked("end"):
            return EndLayer(layer_id=layer.id, seen=seen(form, layer.id))
        return ChangeLayer(layer_id=layer.id, facts=read_layer(form), seen=seen(form, layer.id))

    return send(
        request, viewer, form, opened, command,
        lambda form, status: show_layer(
            request, viewer, opened, form, status, layer.side_id, layer
        ),
        f"/d/{short}/plan",
    )  # fmt: skip


def layer_there(opened: Opened, layer_id: str) -> Layer:
    """A layer of the detail that is open; `Hidden` if it has it not."""
    for layer in layers_of_detail(opened.snapshot, opened.detail_id):
        if layer.id == layer_id:
            return layer
    raise Hidden("rights.hidden")


def _under(snapshot: Snapshot, layer: Layer | None) -> str:
    """What a layer lies right over now."""
    if layer is None:
        return ""
    ids = [x.id for x in layers_of(snapshot, layer.side_id)]
    index = ids.index(layer.id)
    return ids[index - 1] if index else ""


def _show_side(
    request: Request, viewer: Viewer, opened: Opened, form: Form, status: int
) -> Response:
    back = f"/d/{opened.detail_id}/plan"
    page = FormPage(
        form=form,
        heading="Add a side",
        above=opened.snapshot.details[opened.detail_id].name,
        back=back,
        action=f"{back}/sides/new",
        about={"end": False},
    )
    return shown(request, viewer, "plan/side.html", page, status)


def show_layer(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    form: Form,
    status: int,
    side_id: str,
    layer: Layer | None = None,
) -> Response:
    """The form of a layer, new or there already."""
    snapshot, back = opened.snapshot, f"/d/{opened.detail_id}/plan"
    side = snapshot.sides.get(side_id)
    if side is None or side.detail_id != opened.detail_id:
        raise Hidden("rights.hidden")
    others = tuple(
        (x.id, x.name)
        for x in layers_of_detail(snapshot, opened.detail_id)
        if x.side_id == side_id and x is not layer
    )
    page = FormPage(
        form=form,
        heading=layer.name if layer else "Add a layer",
        above=f"{snapshot.details[opened.detail_id].name}, {side.name}",
        back=back,
        action=f"{back}/layers/{layer.id if layer else 'new'}",
        options={
            "over_id": (("", "the bearing side"), *others),
            "within_id": (("", "none"), *others),
        },
        about={"new": layer is None, "side_id": side_id, "over": _under(snapshot, layer)},
        version=layer.version if layer else 0,
    )
    return shown(request, viewer, "plan/layer.html", page, status)
