"""Forms: floors, places where people stand, and ways up."""

from collections.abc import Mapping
from typing import TypeVar

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.places import AddFloor, KeepPlace, KeepWay
from server.core.rights import Hidden
from server.core.world import Place, Snapshot, Way
from server.pages.house.opening import house_of, send
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()

T = TypeVar("T", Place, Way)


@router.get("/p/{short}/floors/new")
def new_floor(request: Request, viewer: SuperViewing, short: str) -> Response:
    return _show(request, viewer, house_of(request, viewer, short), Form(), 200, "floor", None)


@router.post("/p/{short}/floors/new")
def add_floor(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    snapshot = house_of(request, viewer, short)
    return send(
        request, viewer, form, snapshot,
        lambda: AddFloor(
            id=next(ids_of(viewer, form)), name=form.text("name", needed=True, most=120)
        ),
        lambda form, status: _show(request, viewer, snapshot, form, status, "floor", None),
        f"/p/{short}",
    )  # fmt: skip


@router.get("/p/{short}/places/{id}")
def place(request: Request, viewer: SuperViewing, short: str, id: str) -> Response:
    snapshot = house_of(request, viewer, short)
    known = _known(snapshot.places, id)
    form = Form({"room_for": ("1",)})
    if known is not None:
        form = Form(
            {
                "name": (known.name,),
                "floor_id": (known.floor_id,),
                "room_for": (str(known.room_for),),
                "open_to": known.open_to,
                "air": (known.air,) if known.air else (),
            }
        )
    return _show(request, viewer, snapshot, form, 200, "place", known)


@router.post("/p/{short}/places/{id}")
def keep_place(request: Request, viewer: SuperViewing, form: Sent, short: str, id: str) -> Response:
    snapshot = house_of(request, viewer, short)
    known = _known(snapshot.places, id)
    return send(
        request, viewer, form, snapshot,
        lambda: KeepPlace(
            id=known.id if known else next(ids_of(viewer, form)),
            name=form.text("name", needed=True, most=120),
            floor_id=form.text("floor_id", needed=True, most=40),
            room_for=form.whole("room_for", 1, least=1, most=20),
            open_to=form.chosen("open_to"),
            air=form.text("air", most=40),
            seen=seen(form, id),
        ),
        lambda form, status: _show(request, viewer, snapshot, form, status, "place", known),
        f"/p/{short}",
    )  # fmt: skip


@router.get("/p/{short}/ways/{id}")
def way(request: Request, viewer: SuperViewing, short: str, id: str) -> Response:
    snapshot = house_of(request, viewer, short)
    known = _known(snapshot.ways, id)
    form = Form()
    if known is not None:
        fields = {
            "name": known.name,
            "lower_id": known.lower_id,
            "upper_id": known.upper_id,
            "carries": "stair" if known.carries else "ladder",
        }
        form = Form({name: (value,) for name, value in fields.items()})
    return _show(request, viewer, snapshot, form, 200, "way", known)


@router.post("/p/{short}/ways/{id}")
def keep_way(request: Request, viewer: SuperViewing, form: Sent, short: str, id: str) -> Response:
    snapshot = house_of(request, viewer, short)
    known = _known(snapshot.ways, id)
    return send(
        request, viewer, form, snapshot,
        lambda: KeepWay(
            id=known.id if known else next(ids_of(viewer, form)),
            name=form.text("name", needed=True, most=120),
            lower_id=form.text("lower_id", needed=True, most=40),
            upper_id=form.text("upper_id", needed=True, most=40),
            carries=form.typed("carries") != "ladder",
            seen=seen(form, id),
        ),
        lambda form, status: _show(request, viewer, snapshot, form, status, "way", known),
        f"/p/{short}",
    )  # fmt: skip


def _known(rows: Mapping[str, T], id: str) -> T | None:
    if id == "new":
        return None
    if id not in rows:
        raise Hidden("rights.hidden")
    return rows[id]


def _show(
    request: Request,
    viewer: Viewer,
    snapshot: Snapshot,
    form: Form,
    status: int,
    what: str,
    known: Place | Way | None,
) -> Response:
    heading = {"floor": "Add a floor", "place": "Add a place", "way": "Add a way up"}[what]
    floors = tuple((floor.id, floor.name) for floor in snapshot.floors.values())
    back = f"/p/{snapshot.project.id}"
    page = FormPage(
        form=form,
        heading=known.name if known else heading,
        above=snapshot.project.name,
        back=back,
        action=f"{back}/{what}s/{known.id if known else 'new'}",
        options={
            "floors": floors,
            "open_to": tuple((p.id, p.name) for p in snapshot.places.values() if p is not known),
        },
        version=known.version if known else 0,
    )
    return shown(request, viewer, f"house/{what}.html", page, status)
