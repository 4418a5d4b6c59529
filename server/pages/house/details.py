"""Forms: a detail from a pattern or empty; its name and place; its end."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan import AddDetail, AddDetailFromPattern, ChangeDetail, EndDetail
from server.core.patterns import Pattern
from server.core.world import Snapshot
from server.pages.house.opening import house_of, send
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.plan.pressing import send as send_of_detail
from server.pages.shared.filling import choices, filled, places, starts
from server.pages.shared.opened import Opened, open_detail
from server.pages.shared.patterns import known_pattern, own_patterns, shipped_patterns
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
EMPTY = "empty"


@router.get("/p/{short}/details/new")
def new(
    request: Request,
    viewer: SuperViewing,
    short: str,
    chosen: Annotated[str, Query(alias="pattern")] = "",
) -> Response:
    snapshot = house_of(request, viewer, short)
    content = _pattern(snapshot, chosen)
    if chosen != EMPTY and content is None:
        return _choose(request, viewer, snapshot)
    return _show(request, viewer, snapshot, Form(), 200, content)


@router.post("/p/{short}/details/new")
def add(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    snapshot = house_of(request, viewer, short)
    content = _pattern(snapshot, form.typed("pattern"))
    id = next(ids_of(viewer, form))

    def command() -> AddDetail | AddDetailFromPattern:
        name = form.text("name", needed=True, most=120)
        sheet = form.text("sheet", needed=True, most=40)
        place_id = form.text("place_id", most=40) or None
        if content is None:
            note = form.text("note")
            return AddDetail(id=id, name=name, sheet=sheet, place_id=place_id, note=note)
        return AddDetailFromPattern(
            id=id,
            name=name,
            sheet=sheet,
            place_id=place_id,
            content=content,
            **filled(form, content, snapshot),
            not_before=form.moment("not_before"),
        )

    return send(
        request, viewer, form, snapshot, command,
        lambda form, status: _show(request, viewer, snapshot, form, status, content),
        f"/d/{id}/plan",
    )  # fmt: skip


@router.get("/d/{short}/change")
def one(request: Request, viewer: SuperViewing, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    detail = opened.snapshot.details[short]
    fields = {
        "name": detail.name,
        "sheet": detail.sheet,
        "place_id": detail.place_id or "",
        "note": detail.note,
    }
    form = Form({name: (value,) for name, value in fields.items()})
    return _show_change(request, viewer, opened, form, 200)


@router.post("/d/{short}/change")
def put_right(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    ends = form.ticked("end")

    def command() -> ChangeDetail | EndDetail:
        if ends:
            reason = form.text("reason", needed=True)
            return EndDetail(detail_id=short, reason=reason, seen=seen(form, short))
        return ChangeDetail(
            detail_id=short,
            name=form.text("name", needed=True, most=120),
            sheet=form.text("sheet", needed=True, most=40),
            place_id=form.text("place_id", most=40) or None,
            note=form.text("note"),
            seen=seen(form, short),
        )

    return send_of_detail(
        request, viewer, form, opened, command,
        lambda form, status: _show_change(request, viewer, opened, form, status),
        f"/p/{opened.project_id}" if ends else f"/d/{short}/plan",
    )  # fmt: skip


def _pattern(snapshot: Snapshot, id: str) -> Pattern | None:
    known = known_pattern(snapshot, id)
    return known.pattern if known else None


def _choose(request: Request, viewer: Viewer, snapshot: Snapshot) -> Response:
    back = f"/p/{snapshot.project.id}"
    own, shipped = own_patterns(snapshot), shipped_patterns()
    page = FormPage(
        form=Form(),
        heading="Add a detail",
        above=snapshot.project.name,
        back=back,
        action=f"{back}/details/new",
        about={"own": own, "shipped": shipped, "first_shipped": shipped[0].id},
    )
    return shown(request, viewer, "house/patterns.html", page, 200)


def _show(
    request: Request,
    viewer: Viewer,
    snapshot: Snapshot,
    form: Form,
    status: int,
    content: Pattern | None,
) -> Response:
    back = f"/p/{snapshot.project.id}"
    page = FormPage(
        form=form,
        heading=content.name if content else "An empty detail",
        above=f"New in {snapshot.project.name}",
        back=f"{back}/details/new",
        action=f"{back}/details/new",
        options=choices(snapshot),
        about={"pattern": content, "start": starts(snapshot, content) if content else None},
    )
    return shown(request, viewer, "house/detail.html", page, status)


def _show_change(
    request: Request, viewer: Viewer, opened: Opened, form: Form, status: int
) -> Response:
    detail = opened.snapshot.details[opened.detail_id]
    page = FormPage(
        form=form,
        heading=detail.name,
        above=opened.snapshot.project.name,
        back=f"/d/{detail.id}/plan",
        action=f"/d/{detail.id}/change",
        options={"place_id": places(opened.snapshot)},
        version=detail.version,
    )
    return shown(request, viewer, "house/detail_change.html", page, status)
