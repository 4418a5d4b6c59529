"""The figures of a detail, one of them, and the presses that keep it and tie it."""

from collections.abc import Callable
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes import Command
from server.core.changes.holds import OpenAgain
from server.core.changes.inputs import BadInput
from server.core.changes.kept_figures import (
    EndFigure,
    KeepFigure,
    TieFigure,
    TieToWait,
    UntieFigure,
)
from server.core.refusals import message
from server.core.rights import Hidden
from server.core.world import KeptFigure
from server.pages.figures.figure import CALLED
from server.pages.kept_figures.context import compared_with, detail_figures, one_figure
from server.pages.kept_figures.working import Working, inputs_of, limits_of, stack_of
from server.pages.kit import Form, SuperViewing, Viewing, press, render, row_id, see
from server.pages.plan.pressing import seen
from server.pages.shared.opened import Opened, open_detail
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
OURS = frozenset({"key", "version", "kept", "detail", CALLED})
"""Fields of the form that keeps a figure which are none of the figure's own."""


@router.get("/d/{short}/figures")
def page(request: Request, viewer: Viewing, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    shown = detail_figures(request, viewer, opened)
    return render(request, viewer, "kept_figures/page.html", shown, now=opened.now)


@router.post("/d/{short}/figures/keep/{figure}")
def keep(request: Request, viewer: SuperViewing, form: Sent, short: str, figure: str) -> Response:
    opened = open_detail(request, viewer, short)
    sent = [(n, v) for n, values in form.fields.items() if n not in OURS for v in values]
    asked = QueryParams([*sent, ("detail", short)])
    worked = Working(request, viewer).from_form(figure, asked)
    known = opened.snapshot.kept_figures.get(form.typed("kept"))
    id = known.id if known is not None else row_id(viewer, form)
    own = [("detail", short), *([("kept", id)] if known else []), (CALLED, form.typed(CALLED))]
    filled_in = f"{worked.figure.href}?{urlencode([*sent, *own])}"
    if worked.result is None:  # its own page says what is wrong beside each field
        return see(request, filled_in)
    limits, outside = limits_of(worked)

    def commands() -> tuple[Command, ...]:
        return (
            KeepFigure(
                id=id,
                detail_id=short,
                figure=figure,
                name=form.typed(CALLED) or worked.asked.say(worked.figure.title),
                inputs=inputs_of(worked.asked),
                limits=limits,
                outside=outside,
                stack=stack_of(worked),
                seen=seen(form, id),
            ),
        )

    def again(form: Form, status: int) -> Response:
        return see(request, filled_in, form.all_refusals[0].message)

    to = f"/d/{short}/figures/{id}"
    return press(request, viewer, form, opened.project_id, commands, to=to, again=again)


@router.get("/d/{short}/figures/{id}")
def one(request: Request, viewer: Viewing, short: str, id: str, check: str = "") -> Response:
    opened = open_detail(request, viewer, short)
    return _show(request, viewer, opened, id, Form(), 200, check)


@router.post("/d/{short}/figures/{id}/take")
def take(request: Request, viewer: SuperViewing, form: Sent, short: str, id: str) -> Response:
    """The numbers that were shown become the check's; a release with the old ones is opened."""

    def commands(opened: Opened, kept: KeptFigure) -> tuple[Command, ...]:
        hold_id = form.text("hold_id", needed=True, most=40)
        beside = compared_with(request, viewer, opened, kept, hold_id)
        if beside is None:
            raise BadInput("kept_figures.no_numbers", field="hold_id")
        tie = TieFigure(
            figure_id=id, hold_id=hold_id, inputs=form.typed("inputs"), asks=beside.asks,
            datum=beside.datum,
        )  # fmt: skip
        if not (beside.released and form.ticked("again")):
            return (tie,)
        why = message("kept_figures.opened_because", figure=kept.name)
        return (OpenAgain(hold_id=hold_id, reason=opened.words.say(why)), tie)

    return _send(request, viewer, form, short, id, commands)


@router.post("/d/{short}/figures/{id}/wait")
def wait(request: Request, viewer: SuperViewing, form: Sent, short: str, id: str) -> Response:
    def commands(opened: Opened, kept: KeptFigure) -> tuple[Command, ...]:
        return (TieToWait(figure_id=id, activity_id=form.typed("activity_id")),)

    return _send(request, viewer, form, short, id, commands)


@router.post("/d/{short}/figures/{id}/untie")
def untie(request: Request, viewer: SuperViewing, form: Sent, short: str, id: str) -> Response:
    return _send(
        request, viewer, form, short, id, lambda opened, kept: (UntieFigure(figure_id=id),)
    )


@router.post("/d/{short}/figures/{id}/end")
def end(request: Request, viewer: SuperViewing, form: Sent, short: str, id: str) -> Response:
    to = f"/d/{short}/figures"
    return _send(
        request, viewer, form, short, id, lambda opened, kept: (EndFigure(figure_id=id),), to
    )


def _send(
    request: Request,
    viewer: Viewer,
    form: Form,
    short: str,
    id: str,
    commands: Callable[[Opened, KeptFigure], tuple[Command, ...]],
    to: str = "",
) -> Response:
    opened = open_detail(request, viewer, short)
    kept = opened.snapshot.kept_figures.get(id)
    if kept is None or kept.detail_id != short:
        raise Hidden("rights.hidden")

    def again(form: Form, status: int) -> Response:
        now = open_detail(request, viewer, short)
        return _show(request, viewer, now, id, form, status, form.typed("hold_id"))

    return press(
        request, viewer, form, opened.project_id, lambda: commands(opened, kept),
        to=to or f"/d/{short}/figures/{id}", again=again,
    )  # fmt: skip


def _show(
    request: Request, viewer: Viewer, opened: Opened, id: str, form: Form, status: int, check: str
) -> Response:
    kept = opened.snapshot.kept_figures.get(id)
    if kept is None or kept.detail_id != opened.detail_id or kept.ended is not None:
        raise Hidden("rights.hidden")
    shown = one_figure(request, viewer, opened, kept, form, check)
    template = "kept_figures/one.html"
    return render(request, viewer, template, shown, now=opened.now, status=status)
