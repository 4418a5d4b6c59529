"""Forms: a detail from a pattern or empty; its name and place; its end."""

from collections.abc import Iterable
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.plan import AddDetail, AddDetailFromPattern, ChangeDetail, EndDetail
from server.core.patterns import Pattern
from server.core.world import Snapshot
from server.data.patterns import all_patterns, pattern
from server.pages.house.opening import house_of, send
from server.pages.kit.forms import BadField, Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.plan.pressing import send as send_of_detail
from server.pages.shared.opened import Opened, open_detail
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
    if chosen != EMPTY and _pattern(chosen) is None:
        return _choose(request, viewer, snapshot)
    return _show(request, viewer, snapshot, Form(), 200, _pattern(chosen))


@router.post("/p/{short}/details/new")
def add(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    snapshot = house_of(request, viewer, short)
    content = _pattern(form.typed("pattern"))
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
            crews=_given(form, "crew", content.trades, snapshot.crews),
            people=_given(form, "person", content.roles, snapshot.people),
            ways=_given(form, "way", content.ways, snapshot.ways),
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


def _pattern(id: str) -> Pattern | None:
    try:
        return pattern(id)
    except LookupError:
        return None


def _given(form: Form, what: str, asked: Iterable[str], known: Iterable[str]) -> dict[str, str]:
    """Who or what was chosen for each; one that is not there is refused at its field."""
    given = {}
    for number, name in enumerate(asked):
        field = f"{what}_{number}"
        id = form.typed(field)
        if id and id not in known:
            form.refuse(BadField("input.not_a_choice", field=field, chosen=id[:40]))
        elif id:
            given[name] = id
    return given


def _places(snapshot: Snapshot) -> tuple[tuple[str, str], ...]:
    return (("", "no place yet"), *((p.id, p.name) for p in snapshot.places.values()))


def _choose(request: Request, viewer: Viewer, snapshot: Snapshot) -> Response:
    back = f"/p/{snapshot.project.id}"
    page = FormPage(
        form=Form(),
        heading="Add a detail",
        above=snapshot.project.name,
        back=back,
        action=f"{back}/details/new",
        about={"patterns": all_patterns()},
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
    crews = tuple((c.id, f"{c.name}, {c.trade}") for c in snapshot.crews.values() if not c.ended)
    people = tuple((p.id, p.name) for p in snapshot.people.values() if not p.ended)
    page = FormPage(
        form=form,
        heading=content.name if content else "An empty detail",
        above=f"New in {snapshot.project.name}",
        back=f"{back}/details/new",
        action=f"{back}/details/new",
        options={
            "place_id": _places(snapshot),
            "crew": (("", "nobody yet"), *crews),
            "person": (("", "nobody yet"), *people),
            "way": (("", "none"), *((w.id, w.name) for w in snapshot.ways.values())),
        },
        about={"pattern": content, "crew_of": {c.trade: c.id for c in snapshot.crews.values()}},
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
        options={"place_id": _places(opened.snapshot)},
        version=detail.version,
    )
    return shown(request, viewer, "house/detail_change.html", page, status)
