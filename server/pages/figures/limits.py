"""The limits profiles: the list, one of them with its values, and the company's own to edit."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.own_limits import EndLimits, KeepLimits
from server.core.figures.base import Limit, Profile
from server.core.refusals import Message, message
from server.core.rights import Hidden
from server.core.world import Snapshot
from server.data.limits_writing import renamed
from server.data.tables import BadFile
from server.pages.figures import one_limit
from server.pages.figures.one_limit import more_limits
from server.pages.figures.profiles import KnownLimits, known_limits, own_limits, shipped_limits
from server.pages.figures.saying import SOURCES
from server.pages.house.opening import company_of, send
from server.pages.kit.forms import BadField, Form
from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.shared.patterns import wrong_file
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.words import Words, words

router = APIRouter()


@dataclass(frozen=True)
class LimitsPage:
    """All profiles that can be chosen."""

    company: str
    own: tuple[KnownLimits, ...]
    shipped: tuple[KnownLimits, ...]


@dataclass(frozen=True)
class LimitRow:
    """One value of a profile: of what, the value in its own unit, where it stands, how known."""

    name: str
    what: str
    value: str
    section: str
    tag: str


@router.get("/figures/limits")
def limits(request: Request, viewer: SuperViewing) -> Response:
    company = company_of(request, viewer)
    page = LimitsPage(company.company.name, own_limits(company), shipped_limits())
    return render(request, viewer, "figures/limits.html", page)


@router.get("/figures/limits/new")
def new(
    request: Request, viewer: SuperViewing, start: Annotated[str, Query(alias="from")] = ""
) -> Response:
    known = known_limits(company_of(request, viewer), start) or shipped_limits()[0]
    said = words(viewer.language)
    name = said.say(message("limits.own_name", name=known.name))
    form = Form({"text": (known.text,), "name": (name,)})
    return _show(request, viewer, form, 200, None)


@router.post("/figures/limits/new")
def keep(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    id = next(ids_of(viewer, form))

    def command() -> KeepLimits:
        name, text = _typed(form)
        return KeepLimits(id=id, name=name, text=text)

    return send(
        request, viewer, form, company_of(request, viewer), command,
        lambda form, status: _show(request, viewer, form, status, None),
        f"/figures/limits/{id}",
    )  # fmt: skip


@router.get("/figures/limits/{id}")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    known = _known(company_of(request, viewer), id)
    form = Form({"name": (known.name,), "text": (known.text,)})
    return _show(request, viewer, form, 200, known)


@router.post("/figures/limits/{id}")
def put_right(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    known = _known(company, id)
    if known.own is None:
        raise Hidden("rights.hidden")
    ends = form.ticked("end")

    def command() -> KeepLimits | EndLimits:
        if ends:
            return EndLimits(limits_id=id, seen=seen(form, id))
        name, text = _typed(form)
        return KeepLimits(id=id, name=name, text=text, seen=seen(form, id))

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, form, status, known),
        "/figures/limits" if ends else f"/figures/limits/{id}",
    )  # fmt: skip


def _typed(form: Form) -> tuple[str, str]:
    """The name and the text of the profile in a form; what is wrong is kept beside its field."""
    name = form.text("name", needed=True, most=120)
    text = form.typed("text").replace("\r\n", "\n").removeprefix("\n")
    if not text.strip():
        form.refuse(BadField("form.needed", field="text"))
    form.check()
    try:
        text = renamed(text, name)
    except BadFile as error:
        said = wrong_file(error, text)
        form.refuse(BadField(said.id, field="text", **said.values))
    form.check()
    if any(name.casefold() == one.name.casefold() for one in shipped_limits()):
        raise BadField("limits.name_ships", field="name")
    return name, text


def _known(company: Snapshot, id: str) -> KnownLimits:
    known = known_limits(company, id)
    if known is None:
        raise Hidden("rights.hidden")
    return known


def _rows(profile: Profile, said: Words) -> Iterator[LimitRow]:
    for name, limit in profile.limits.items():
        where = " ".join(part for part in (limit.source, limit.section) if part)
        tag = SOURCES[limit.tag]
        yield LimitRow(
            name=name,
            what=said.say(message("figures.limit_said", what=name)),
            value=_value(limit, said),
            section=where,
            tag=said.say(Message(tag)) if tag else "",
        )


def _value(limit: Limit, said: Words) -> str:
    """A limit in its own unit: as it was written, nothing rounded."""

    def length(value: float) -> str:
        return said.length(Fraction(value), limit.unit)

    if limit.least is None or limit.most is None:
        id = "figures.least" if limit.most is None else "figures.most"
        only = limit.least if limit.most is None else limit.most
        return said.say(Message(id, {id.partition(".")[2]: length(only or 0.0)}))
    if limit.least == limit.most:
        return length(limit.least)
    ends = {"least": length(limit.least), "most": length(limit.most)}
    return said.say(Message("figures.from_to", ends))


def _show(
    request: Request, viewer: Viewer, form: Form, status: int, known: KnownLimits | None
) -> Response:
    said = words(viewer.language)
    rows = tuple(_rows(known.profile, said)) if known and known.profile else ()
    own = known.own if known else None
    page = FormPage(
        form=form,
        heading=known.name if known else said.say(message("limits.new")),
        above="",
        back="/figures/limits",
        action=f"/figures/limits/{known.id if known else 'new'}",
        options={"limit": more_limits(known, said)} if known else {},
        about={"known": known, "rows": rows},
        version=own.version if own else 0,
    )
    return shown(request, viewer, "figures/one_limits.html", page, status)


router.include_router(one_limit.router)
