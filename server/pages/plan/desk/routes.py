"""The desk of a plan: the page, what it asks for while somebody types, and its presses."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import change
from server.core.refusals import Refusal
from server.pages.kit import render
from server.pages.kit.render import HEADERS
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.desk import layer_cells
from server.pages.plan.desk.cells import Cells
from server.pages.plan.desk.commands import layer_added
from server.pages.plan.desk.layers import router as layers
from server.pages.plan.desk.pressing import LONGEST
from server.pages.plan.desk.rows import router as rows
from server.pages.plan.desk.showing import show_desk
from server.pages.plan.desk.shown import standing_of
from server.pages.plan.desk.suggesting import Offer, offered, offered_of_layer
from server.pages.shared.buildup import SideShown, sides_shown
from server.pages.shared.opened import open_detail

router = APIRouter()
router.include_router(rows)
router.include_router(layers)


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


@router.get("/d/{short}/plan/desk/drawn")
def drawn(request: Request, viewer: SuperViewing, short: str) -> Response:
    """A side with the layer in it that is being typed, before it is added."""
    opened = open_detail(request, viewer, short)
    query = request.query_params
    side = opened.snapshot.sides.get(query.get("side_id", ""))
    if side is None or side.detail_id != short:
        return render(request, viewer, "plan/_drawn.html", _Figure("", None))
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
    column: Annotated[str, Query()] = "",
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
    drawn: SideShown | None


@dataclass(frozen=True)
class _Offers:
    offers: tuple[Offer, ...]
