"""A detail kept as a pattern of the company's own, or copied into this house or another."""

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.own_patterns import KeepPattern
from server.core.changes.plan import AddDetailFromPattern
from server.core.pattern_of import Taken, taken_of
from server.core.pattern_words import key_of
from server.core.refusals import Message, message
from server.core.world import Detail, Project, Snapshot
from server.data.pattern_reading import read_pattern
from server.data.pattern_writing import pattern_text
from server.data.tables import BadFile
from server.pages.house.opening import company_of, house_of, send
from server.pages.kit.forms import BadField, Form
from server.pages.kit.viewing import SuperViewing
from server.pages.kit.web import web_of
from server.pages.plan.pressing import FormPage, ids_of, shown
from server.pages.shared.filling import Filled, by_name, choices, filled
from server.pages.shared.opened import Opened, open_detail
from server.pages.shared.patterns import named_in, wrong_file
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
LEFT_OUT = {
    "orders": "patterns.left_orders",
    "places": "patterns.left_places",
    "dates": "patterns.left_dates",
    "rework": "patterns.left_rework",
    "temporary": "patterns.left_temporary",
    "drawings": "patterns.left_drawings",
    "samples": "patterns.left_samples",
}


@router.get("/d/{short}/pattern")
def as_pattern(request: Request, viewer: SuperViewing, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    detail, company = opened.snapshot.details[short], opened.snapshot.company
    say = opened.words.say
    start = {
        "name": detail.name,
        "about": detail.note or say(message("patterns.about_start", detail=detail.name)),
        "source": say(message("patterns.source_start", company=company.name)),
    }
    form = Form({name: (value,) for name, value in start.items()})
    return _show_pattern(request, viewer, opened, form, 200)


@router.post("/d/{short}/pattern")
def keep(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    company = company_of(request, viewer)
    id = next(ids_of(viewer, form))

    def command() -> KeepPattern:
        name = form.text("name", needed=True, most=120)
        about = form.text("about", needed=True)
        source = form.text("source", needed=True)
        form.check()
        key = key_of(name, (), "pattern")
        taken = taken_of(opened.snapshot, short, id=key, name=name, about=about, source=source)
        text = pattern_text(taken.pattern)
        try:
            read_pattern(text, "")
        except BadFile as error:
            said = wrong_file(error, text)
            raise BadField(said.id, field="name", **said.values) from None
        return KeepPattern(id=id, name=name, text=text)

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show_pattern(request, viewer, opened, form, status),
        f"/house/patterns/{id}",
    )  # fmt: skip


@router.get("/d/{short}/copy")
def copy(
    request: Request,
    viewer: SuperViewing,
    short: str,
    house: Annotated[str, Query()] = "",
) -> Response:
    opened = open_detail(request, viewer, short)
    target = house_of(request, viewer, house or opened.project_id)
    form = Form(_copy_starts(opened.snapshot.details[short], opened.snapshot, target))
    return _show_copy(request, viewer, opened, target, form, 200)


@router.post("/d/{short}/copy")
def add_copy(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    target = house_of(request, viewer, form.typed("house") or opened.project_id)
    taken = _apart(opened)
    id = next(ids_of(viewer, form))

    def command() -> AddDetailFromPattern:
        return AddDetailFromPattern(
            id=id,
            name=form.text("name", needed=True, most=120),
            sheet=form.text("sheet", needed=True, most=40),
            place_id=form.text("place_id", most=40) or None,
            content=taken.pattern,
            **filled(form, taken.pattern, target),
            not_before=form.moment("not_before"),
            copy_of=opened.snapshot.details[short].name,
        )

    return send(
        request, viewer, form, target, command,
        lambda form, status: _show_copy(request, viewer, opened, target, form, status),
        f"/d/{id}/plan",
    )  # fmt: skip


def _apart(opened: Opened) -> Taken:
    """The detail to be copied at once. It stays of the pattern it was made from."""
    detail = opened.snapshot.details[opened.detail_id]
    taken = taken_of(
        opened.snapshot, detail.id, id="", name=detail.name, about="", source="", apart=True
    )
    return replace(taken, pattern=replace(taken.pattern, id=detail.pattern))


def _copy_starts(detail: Detail, here: Snapshot, there: Snapshot) -> dict[str, tuple[str, ...]]:
    """Name, mark and place of the original, as far as the other house has them free."""
    names = {d.name for d in there.details.values() if d.ended is None}
    place = here.places[detail.place_id].name if detail.place_id else ""
    known = ((p.id, p.name) for p in there.places.values())
    return {
        "name": (f"{detail.name}, copy" if detail.name in names else detail.name,),
        "sheet": (detail.sheet,),
        "place_id": (by_name((place,), known).get(place, ""),),
    }


def _filled_starts(taken: Taken, there: Snapshot) -> Filled:
    """Whom the original has, where they are still there; ways by their names."""
    return Filled(
        crews={w: id for w, id in taken.crews.items() if not there.crews[id].ended},
        people={w: id for w, id in taken.people.items() if not there.people[id].ended},
        ways=by_name(taken.ways, ((w.id, w.name) for w in there.ways.values())),
        calendars={**taken.calendars},
    )


def left_out(taken: Taken) -> tuple[Message, ...]:
    """What of the detail has no place in a pattern, in words."""
    return tuple(
        message(id, n=taken.left_out[what])
        for what, id in LEFT_OUT.items()
        if taken.left_out.get(what)
    )


def _show_pattern(
    request: Request, viewer: Viewer, opened: Opened, form: Form, status: int
) -> Response:
    detail = opened.snapshot.details[opened.detail_id]
    taken = taken_of(opened.snapshot, detail.id, id="", name=detail.name, about="", source="")
    names = tuple(dict.fromkeys(named_in(pattern_text(taken.pattern), opened.snapshot)))
    page = FormPage(
        form=form,
        heading="Keep as a pattern",
        above=f"{detail.name}, {opened.snapshot.project.name}",
        back=f"/d/{detail.id}/change",
        action=f"/d/{detail.id}/pattern",
        about={"pattern": taken.pattern, "left_out": left_out(taken), "names": names},
    )
    return shown(request, viewer, "patterns/of_detail.html", page, status)


def _show_copy(
    request: Request, viewer: Viewer, opened: Opened, target: Snapshot, form: Form, status: int
) -> Response:
    detail, taken = opened.snapshot.details[opened.detail_id], _apart(opened)
    page = FormPage(
        form=form,
        heading=f"Copy {detail.name}",
        above=f"From {opened.snapshot.project.name}",
        back=f"/d/{detail.id}/change",
        action=f"/d/{detail.id}/copy",
        options=choices(target),
        about={
            "pattern": taken.pattern,
            "left_out": left_out(taken),
            "start": _filled_starts(taken, target),
            "house": target.project,
            "houses": _houses(request, viewer),
        },
    )
    return shown(request, viewer, "patterns/copy.html", page, status)


def _houses(request: Request, viewer: Viewer) -> tuple[Project, ...]:
    known = web_of(request).store.projects(viewer.company_id)
    return tuple(house for house in known if house.ended is None and viewer.may_open(house.id))
