"""Forms: a side renamed, put in order, ended; a layer in another place of the stack."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan_rows import ChangeSide, EndSide, MoveLayer
from server.core.changes.rules_plan_layers import layers_of
from server.core.changes.rules_plan_sides import sides_of
from server.core.rights import Hidden
from server.core.world import Side
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.layer_form import filled
from server.pages.plan.layers import layer_there, show_layer
from server.pages.plan.pressing import FormPage, seen, send, shown
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/d/{short}/plan/sides/{side_id}")
def one(request: Request, viewer: SuperViewing, short: str, side_id: str) -> Response:
    opened = open_detail(request, viewer, short)
    side = _side(opened, side_id)
    above = [s.id for s in sides_of(opened.snapshot, short)]
    index = above.index(side.id)
    start = {"name": (side.name,), "behind_id": (above[index - 1] if index else "",)}
    return _show(request, viewer, opened, side, Form(start), 200)


@router.post("/d/{short}/plan/sides/{side_id}")
def put_right(
    request: Request, viewer: SuperViewing, form: Sent, short: str, side_id: str
) -> Response:
    opened = open_detail(request, viewer, short)
    side = _side(opened, side_id)

    def command() -> ChangeSide | EndSide:
        if form.ticked("end"):
            return EndSide(side_id=side.id, seen=seen(form, side.id))
        return ChangeSide(
            side_id=side.id,
            name=form.text("name", needed=True, most=120),
            behind_id=form.text("behind_id", most=40) or None,
            seen=seen(form, side.id),
        )

    return send(
        request, viewer, form, opened, command,
        lambda form, status: _show(request, viewer, opened, side, form, status),
        f"/d/{short}/plan",
    )  # fmt: skip


@router.post("/d/{short}/plan/layers/{layer_id}/over")
def move_layer(
    request: Request, viewer: SuperViewing, form: Sent, short: str, layer_id: str
) -> Response:
    opened = open_detail(request, viewer, short)
    layer = layer_there(opened, layer_id)

    def again(form: Form, status: int) -> Response:
        # the form of its facts stands on the same page
        whole = Form({**filled(layer), **form.fields}, refusals=form.refusals)
        return show_layer(request, viewer, opened, whole, status, layer.side_id, layer)

    return send(
        request, viewer, form, opened,
        lambda: MoveLayer(
            layer_id=layer.id,
            over_id=form.text("over_id", most=40) or None,
            seen=seen(form, layer.id),
        ),
        again,
        f"/d/{short}/plan",
    )  # fmt: skip


def _side(opened: Opened, side_id: str) -> Side:
    side = opened.snapshot.sides.get(side_id)
    if side is None or side.detail_id != opened.detail_id:
        raise Hidden("rights.hidden")
    return side


def _show(
    request: Request, viewer: Viewer, opened: Opened, side: Side, form: Form, status: int
) -> Response:
    snapshot, back = opened.snapshot, f"/d/{opened.detail_id}/plan"
    others = [s for s in sides_of(snapshot, opened.detail_id) if s.id != side.id]
    page = FormPage(
        form=form,
        heading=side.name,
        above=snapshot.details[opened.detail_id].name,
        back=back,
        action=f"{back}/sides/{side.id}",
        options={
            "behind_id": (("", "as the first"), *((s.id, f"behind {s.name}") for s in others)),
        },
        about={"layers": tuple(x.name for x in layers_of(snapshot, side.id)), "end": True},
        version=side.version,
    )
    return shown(request, viewer, "plan/side.html", page, status)
