"""Form: a floor gets another name."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.places import ChangeFloor
from server.core.rights import Hidden
from server.core.world import Floor, Snapshot
from server.pages.house.opening import house_of, send
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, seen, shown
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/p/{short}/floors/{floor_id}")
def one(request: Request, viewer: SuperViewing, short: str, floor_id: str) -> Response:
    snapshot = house_of(request, viewer, short)
    floor = _floor(snapshot, floor_id)
    return _show(request, viewer, snapshot, floor, Form({"name": (floor.name,)}), 200)


@router.post("/p/{short}/floors/{floor_id}")
def rename(
    request: Request, viewer: SuperViewing, form: Sent, short: str, floor_id: str
) -> Response:
    snapshot = house_of(request, viewer, short)
    floor = _floor(snapshot, floor_id)
    return send(
        request, viewer, form, snapshot,
        lambda: ChangeFloor(
            floor_id=floor.id,
            name=form.text("name", needed=True, most=120),
            seen=seen(form, floor.id),
        ),
        lambda form, status: _show(request, viewer, snapshot, floor, form, status),
        f"/p/{short}",
    )  # fmt: skip


def _floor(snapshot: Snapshot, floor_id: str) -> Floor:
    if floor_id not in snapshot.floors:
        raise Hidden("rights.hidden")
    return snapshot.floors[floor_id]


def _show(
    request: Request, viewer: Viewer, snapshot: Snapshot, floor: Floor, form: Form, status: int
) -> Response:
    back = f"/p/{snapshot.project.id}"
    page = FormPage(
        form=form,
        heading=floor.name,
        above=snapshot.project.name,
        back=back,
        action=f"{back}/floors/{floor.id}",
        about={"new": False},
        version=floor.version,
    )
    return shown(request, viewer, "house/floor.html", page, status)
