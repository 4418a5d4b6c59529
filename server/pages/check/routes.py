"""The check: looked at, marked, decided; numbers judged while they are typed."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import ChangedSince, Command, change
from server.core.refusals import Refusal
from server.core.world import HoldPoint
from server.pages.check import commands
from server.pages.check.asking import Asking
from server.pages.check.context import CheckPage, check_page
from server.pages.check.deciding import release_label
from server.pages.check.marking import drafts_of, mark_form
from server.pages.check.numbers import FIELD, Judged, judged
from server.pages.check.pushes import pushes_of, rejection
from server.pages.kit import Form, Viewing, is_partial, kept, press, render
from server.pages.photos.taking import drop_draft, take_photos
from server.pages.shared.opened import Opened, open_check
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()


@router.get("/h/{hold_id}")
def page(request: Request, viewer: Viewing, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    return kept(
        request,
        viewer,
        (opened.snapshot,),
        lambda: ("check/page.html", _context(_asking(opened, viewer, hold_id), opened)),
        now=opened.now,
    )


@router.post("/h/{hold_id}/mark")
def mark(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    take_photos(request, viewer, opened.project_id, hold_id, form)
    opened = open_check(request, viewer, hold_id)
    hold, asks = opened.snapshot.holds[hold_id], opened.snapshot.asks_of.get(hold_id, ())
    drafts = drafts_of(_asking(opened, viewer, hold_id))
    return _pressed(
        request, viewer, opened, hold_id, "mark", form,
        lambda: commands.mark(form, viewer.person.id, hold, asks, drafts),
    )  # fmt: skip


@router.post("/h/{hold_id}/release")
def release(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    return _decide(request, viewer, hold_id, "release", form, commands.release)


@router.post("/h/{hold_id}/again")
def again(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    return _decide(
        request, viewer, hold_id, "again", form,
        lambda form, hold: commands.look_again(form, hold, opened.now),
    )  # fmt: skip


@router.post("/h/{hold_id}/reject")
def reject(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    return _decide(
        request, viewer, hold_id, "reject", form,
        lambda form, hold: commands.reject(form, viewer.person.id, hold),
    )  # fmt: skip


@router.post("/h/{hold_id}/open")
def open_again(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    return _decide(request, viewer, hold_id, "open", form, commands.open_again)


@router.post("/h/{hold_id}/call")
def call(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    return _decide(
        request, viewer, hold_id, "call", form,
        lambda form, hold: commands.call(form, hold, opened.now),
    )  # fmt: skip


# -- answers to single fields, which change nothing ------------------------------------------------


@dataclass(frozen=True)
class VerdictPart:
    """The verdict on one number."""

    judged: Judged


@router.post("/h/{hold_id}/judge")
def judge(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    typed = {name.removeprefix(FIELD): form.typed(name) for name in form.fields}
    asks = [ask for ask in opened.snapshot.asks_of.get(hold_id, ()) if ask.id in typed]
    said = judged(asks[0], typed[asks[0].id], opened.words) if asks else Judged()
    return render(request, viewer, "check/_verdict.html", VerdictPart(said), now=opened.now)


@dataclass(frozen=True)
class SaidPart:
    """One sentence or label."""

    said: str


@router.post("/h/{hold_id}/label")
def label(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    hold = opened.snapshot.holds[hold_id]
    said = release_label(hold, commands.numbers(form, "leave"), opened.words)
    return render(request, viewer, "check/_said.html", SaidPart(said), now=opened.now)


@router.post("/h/{hold_id}/push")
def push(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    asking = _asking(opened, viewer, hold_id)
    said = rejection(asking, commands.hours(form, "reject_rework"), opened.status)
    return render(request, viewer, "check/_said.html", SaidPart(said), now=opened.now)


@dataclass(frozen=True)
class PhotosPart:
    """The photos taken so far, and why one was not."""

    hold_id: str
    mark: object
    form: Form


@router.post("/h/{hold_id}/photos")
def photos(request: Request, viewer: Viewing, form: Sent, hold_id: str) -> Response:
    opened = open_check(request, viewer, hold_id)
    take_photos(request, viewer, opened.project_id, hold_id, form)
    return _photos(request, viewer, hold_id, form)


@router.post("/h/{hold_id}/photos/{photo_id}/drop")
def drop_photo(
    request: Request, viewer: Viewing, form: Sent, hold_id: str, photo_id: str
) -> Response:
    opened = open_check(request, viewer, hold_id)
    photo = opened.snapshot.photos.get(photo_id)
    if photo is not None and photo.hold_id == hold_id:
        drop_draft(request, viewer, opened.project_id, photo_id)
    return _photos(request, viewer, hold_id, form)


def _photos(request: Request, viewer: Viewer, hold_id: str, form: Form) -> Response:
    """The photos alone for a press by htmx, else the page with everything typed."""
    opened = open_check(request, viewer, hold_id)
    if not is_partial(request):
        return _show(request, viewer, opened, hold_id, {"mark": form}, 200)
    asking = _asking(opened, viewer, hold_id)
    part = PhotosPart(hold_id, mark_form(asking), form)
    return render(request, viewer, "check/_photos.html", part, now=opened.now)


# -- how every press goes --------------------------------------------------------------------------


def _decide(
    request: Request,
    viewer: Viewer,
    hold_id: str,
    name: str,
    form: Form,
    command: Callable[[Form, HoldPoint], Command],
) -> Response:
    opened = open_check(request, viewer, hold_id)
    hold = opened.snapshot.holds[hold_id]
    return _pressed(request, viewer, opened, hold_id, name, form, lambda: command(form, hold))


def _pressed(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    hold_id: str,
    name: str,
    form: Form,
    command: Callable[[], Command],
) -> Response:
    def once_more(form: Form, status: int) -> Response:
        now = open_check(request, viewer, hold_id)
        _say_why(form, viewer, now, command)
        commands.lead_back(form, name)
        return _show(request, viewer, now, hold_id, {name: form}, status)

    return press(
        request,
        viewer,
        form,
        opened.project_id,
        lambda: (command(),),
        to=f"/h/{hold_id}",
        again=once_more,
    )


def _say_why(form: Form, viewer: Viewer, now: Opened, command: Callable[[], Command]) -> None:
    """In place of "changed meanwhile", what stands in the way now: already released by whom."""
    if not any(isinstance(refusal, ChangedSince) for refusal in form.refusals):
        return
    try:
        change(now.snapshot, viewer.actor, replace(command(), seen={}), now.now)
    except Refusal as refusal:
        form.refusals[:] = [refusal]


def _show(
    request: Request,
    viewer: Viewer,
    opened: Opened,
    hold_id: str,
    forms: dict[str, Form],
    status: int,
) -> Response:
    """The page, or its main part for a press by htmx, which takes in no other status than 422."""
    context = _context(_asking(opened, viewer, hold_id, forms), opened)
    if is_partial(request):
        return render(
            request, viewer, "check/_main.html", context, now=opened.now, status=min(status, 422)
        )
    return render(request, viewer, "check/page.html", context, now=opened.now, status=status)


def _asking(
    opened: Opened, viewer: Viewer, hold_id: str, forms: dict[str, Form] | None = None
) -> Asking:
    return Asking(
        snapshot=opened.snapshot,
        schedule=opened.schedule,
        hold=opened.snapshot.holds[hold_id],
        actor=viewer.actor,
        words=opened.words,
        now=opened.now,
        forms=forms or {},
    )


def _context(asking: Asking, opened: Opened) -> CheckPage:
    return check_page(asking, pushes_of(asking, opened.status))
