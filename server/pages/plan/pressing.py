"""What the forms of the plan and the house share: the context of a form page, and its press."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.pages.kit.forms import Form
from server.pages.kit.press import press
from server.pages.kit.render import render
from server.pages.plan.trial import tried
from server.pages.shared.opened import Opened
from server.people.viewer import Viewer
from server.store.ids import ids_from, new_id

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class FormPage:
    """A page with one form. `options` are the choices of its fields by name; `about` the rest."""

    form: Form
    heading: str
    above: str
    back: str
    action: str
    options: Mapping[str, Options] = field(default_factory=dict)
    about: Mapping[str, Any] = field(default_factory=dict)
    version: int = 0


def ids_of(viewer: Viewer, form: Form) -> Iterator[str]:
    """Ids for the new rows of a form, the same when it is sent again."""
    if form.key:
        return ids_from(viewer.person.id, form.key)
    return iter(new_id, "")


def seen(form: Form, id: str) -> dict[str, int]:
    """The version of a row that the form was shown with."""
    typed = form.typed("version")
    return {id: int(typed)} if typed.isdecimal() and len(typed) < 9 else {}


def send(
    request: Request,
    viewer: Viewer,
    form: Form,
    opened: Opened,
    command: Callable[[], Command],
    show: Callable[[Form, int], Response],
    to: str,
) -> Response:
    """Tries the command so that all refusals are told together, then gives it to the store."""

    def commands() -> tuple[Command, ...]:
        made = command()
        tried(form, opened.snapshot, viewer.actor, opened.now, made)
        return (made,)

    return press(request, viewer, form, opened.project_id, commands, to=to, again=show)


def shown(request: Request, viewer: Viewer, template: str, page: FormPage, status: int) -> Response:
    """The form page."""
    return render(request, viewer, template, page, status=status)
