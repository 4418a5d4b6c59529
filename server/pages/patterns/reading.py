"""A form that brings a pattern: a file or its text, looked at before it is kept."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.own_patterns import KeepPattern
from server.core.changes.rules_own_patterns import LARGEST
from server.core.patterns import Pattern
from server.data.pattern_reading import read_pattern
from server.data.pattern_tables import text_of_file
from server.data.pattern_writing import renamed
from server.data.tables import BadFile
from server.pages.house.opening import company_of, send
from server.pages.kit.forms import BadField, Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, shown
from server.pages.shared.patterns import known_pattern, wrong_file
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/house/patterns/new")
def new(
    request: Request, viewer: SuperViewing, start: Annotated[str, Query(alias="from")] = ""
) -> Response:
    known = known_pattern(company_of(request, viewer), start)
    form = Form({"text": (known.text,)} if known else {})
    return _show(request, viewer, form, 200)


@router.post("/house/patterns/new")
def keep(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    _take_file(form)
    if form.ticked("look"):
        pattern = read(form)
        return _show(request, viewer, form, 422 if pattern is None else 200, pattern)
    company = company_of(request, viewer)
    id = next(ids_of(viewer, form))

    def command() -> KeepPattern:
        name, text = named(form)
        return KeepPattern(id=id, name=name, text=text)

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, form, status),
        f"/house/patterns/{id}",
    )  # fmt: skip


def named(form: Form, was: str = "") -> tuple[str, str]:
    """The name and the text of the pattern in a form; another name typed beside it goes into it.

    `was` is the name that the form was shown with: left as it is, it says nothing.
    """
    pattern = read(form)
    name = form.text("name", most=120)
    form.check()
    assert pattern is not None, "what could not be read has been refused"
    text = _text(form)
    if name in ("", was, pattern.name):
        return pattern.name, text
    return name, renamed(text, name)


def read(form: Form) -> Pattern | None:
    """The pattern in a form's text; what is wrong with it is kept beside the text."""
    text = _text(form)
    if form.all_refusals:  # of a file that has no text
        return None
    if not text.strip():
        form.refuse(BadField("form.needed", field="text"))
        return None
    try:
        return read_pattern(text, "")
    except BadFile as error:
        said = wrong_file(error, text)
        form.refuse(BadField(said.id, field="text", **said.values))
        return None


def _text(form: Form) -> str:
    """As it was typed, with the line ends of a file."""
    return form.typed("text").replace("\r\n", "\n").removeprefix("\n")


def _take_file(form: Form) -> None:
    """The text of a file that came stands in the form as if it had been typed."""
    for file in form.files.get("file", ())[:1]:
        data = file.file.read(LARGEST + 1)
        try:
            text = text_of_file(data, "")
        except BadFile as error:
            text = data.decode("utf-8", "replace").replace("\0", "\ufffd")
            said = wrong_file(error, text)
            form.refuse(BadField(said.id, field="file", **said.values))
        form.fields = {**form.fields, "text": (text,)}


def _show(
    request: Request, viewer: Viewer, form: Form, status: int, pattern: Pattern | None = None
) -> Response:
    page = FormPage(
        form=form,
        heading="Bring a pattern",
        above="From a file, or pasted",
        back="/house/patterns",
        action="/house/patterns/new",
        about={"pattern": pattern},
    )
    return shown(request, viewer, "patterns/new.html", page, status)
