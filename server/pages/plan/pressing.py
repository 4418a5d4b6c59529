"""What the forms of the plan and the house share: the context of a form page, and its press."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.world import Snapshot
from server.pages.kit.forms import Form
from server.pages.kit.press import press
from server.pages.kit.render import render
from server.pages.plan.trial import tried
from server.pages.shared.opened import Opened
from server.people.viewer import Viewer
from server.store.ids import ids_from, new_id

Options = tuple[tuple[str, str], ...]
UNPROCESSABLE = 422


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
    """Gives a command about the detail that is open to the store; see `send_to`."""
    return send_to(request, viewer, form, opened.snapshot, opened.now, command, show, to)


def send_to(
    request: Request,
    viewer: Viewer,
    form: Form,
    snapshot: Snapshot,
    now: datetime,
    command: Callable[[], Command],
    show: Callable[[Form, int], Response],
    to: str,
) -> Response:
    """Gives a command to the store; where it is refused, all that is wrong is told together.

    What was refused is tried again only then: a form sent twice is known by its key, not judged.
    """
    made: list[Command] = []

    def commands() -> tuple[Command, ...]:
        made.append(command())
        return tuple(made)

    def again(form: Form, status: int) -> Response:
        if made and status == UNPROCESSABLE:
            tried(form, snapshot, viewer.actor, now, made[0])
        return show(form, status)

    project_id = next(iter(snapshot.projects), None)
    return press(request, viewer, form, project_id, commands, to=to, again=again)


def shown(request: Request, viewer: Viewer, template: str, page: FormPage, status: int) -> Response:
    """The form page."""
    return render(request, viewer, template, page, status=status)
