"""The list of patterns, one pattern, its file; and the routes of what makes new ones."""

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.own_patterns import EndPattern, KeepPattern
from server.core.pattern_words import key_of
from server.core.rights import Hidden
from server.core.world import Snapshot
from server.pages.house.opening import company_of, send
from server.pages.kit.forms import Form
from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.patterns import of_detail, reading
from server.pages.plan.pressing import FormPage, seen, shown
from server.pages.shared.patterns import Known, known_pattern, own_patterns, shipped_patterns
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@dataclass(frozen=True)
class PatternsPage:
    """All patterns that can be chosen."""

    company: str
    own: tuple[Known, ...]
    shipped: tuple[Known, ...]


@router.get("/house/patterns")
def patterns(request: Request, viewer: SuperViewing) -> Response:
    company = company_of(request, viewer)
    page = PatternsPage(company.company.name, own_patterns(company), shipped_patterns())
    return render(request, viewer, "patterns/list.html", page)


for part in (reading, of_detail):  # "new" before what takes any id
    router.include_router(part.router)


@router.get("/house/patterns/{id}.toml")
def file(request: Request, viewer: SuperViewing, id: str) -> Response:
    known = _known(company_of(request, viewer), id)
    name = key_of(known.name, (), "pattern").encode("ascii", "ignore").decode().strip("-")
    headers = {
        "Content-Disposition": f'attachment; filename="{name or "pattern"}.toml"',
        "Content-Security-Policy": "default-src 'none'; sandbox",
        "X-Content-Type-Options": "nosniff",
        "Cache-Control": "private, no-cache",
        "Vary": "Cookie",
    }
    return Response(known.text, media_type="application/toml", headers=headers)


@router.get("/house/patterns/{id}")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    known = _known(company_of(request, viewer), id)
    form = Form({"name": (known.name,), "text": (known.text,)})
    return _show(request, viewer, form, 200, known)


@router.post("/house/patterns/{id}")
def put_right(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    known = _known(company, id)
    if known.own is None:
        raise Hidden("rights.hidden")
    ends = form.ticked("end")

    def command() -> KeepPattern | EndPattern:
        if ends:
            return EndPattern(pattern_id=id, seen=seen(form, id))
        name, text = reading.named(form, known.name)
        return KeepPattern(id=id, name=name, text=text, seen=seen(form, id))

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, form, status, known),
        "/house/patterns" if ends else f"/house/patterns/{id}",
    )  # fmt: skip


def _known(company: Snapshot, id: str) -> Known:
    known = known_pattern(company, id)
    if known is None:
        raise Hidden("rights.hidden")
    return known


def _show(request: Request, viewer: Viewer, form: Form, status: int, known: Known) -> Response:
    page = FormPage(
        form=form,
        heading=known.name,
        above="A pattern of your own" if known.own else "A pattern that comes with the program",
        back="/house/patterns",
        action=f"/house/patterns/{known.id}",
        about={"known": known, "pattern": known.pattern},
        version=known.own.version if known.own else 0,
    )
    return shown(request, viewer, "patterns/one.html", page, status)
