"""The figure of a stack of tolerances: its page, on which parts are added and taken away.

The address names how many rows there are (`parts`). A press for one more, or to take one away,
leads to the address with the rows as they are then; what was typed goes along as it was typed.
"""

from dataclasses import replace
from functools import partial
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.figures.base import BadFigure
from server.core.figures.stack_at_parts import at_each, worst_of
from server.drawing.stack_bars import stack_bars
from server.pages.figures.asked import Asked
from server.pages.figures.at_work import AtWork
from server.pages.figures.figure import Figure, answer
from server.pages.figures.result import Result
from server.pages.figures.saying import cautions
from server.pages.figures.stack_at import checks_table, note_at, tables_at
from server.pages.figures.stack_rows import AskedParts, one_more, rows_of, without
from server.pages.figures.stack_said import answered, drawing_words, notes, parts_table, ranges
from server.pages.kit import Viewing
from server.people.viewer import Viewer

router = APIRouter()


def make(asked: Asked) -> Result:
    """The stack that was asked for, worked out and said. `asked` has to be of its own kind."""
    assert isinstance(asked, AskedParts)
    stack = asked.stack()
    try:
        each = at_each(stack, [row.source for row in asked.rows])
    except BadFigure as refusal:
        raise asked.at_its_row(refusal) from refusal
    asked.check()
    at = worst_of(each)
    figure = at.figure
    return Result(
        answer=answered(asked, figure),
        groups=(ranges(asked, figure),),
        tables=(*tables_at(asked, each), parts_table(asked, figure), *checks_table(asked)),
        notes=(*note_at(asked, each, at), *notes(asked, figure)),
        cautions=cautions(asked, "stack.caution.measured", "stack.caution.plaster"),
        drawing=stack_bars(figure, drawing_words(asked, figure)),
        drawn=asked.say("stack.drawn"),
    )


@router.get("/figures/stack")
def page(request: Request, viewer: Viewing) -> Response:
    query = request.query_params
    if "more" in query:
        fields = one_more(query)
        return _at(fields, f"name-{rows_of(QueryParams(fields))}")
    if "without" in query:
        return _at(without(query), "rows")
    return answer(request, viewer, at_work(request, viewer))


def at_work(request: Request, viewer: Viewer) -> Figure:
    """The figure for a viewer: a check of the detail that it is asked for may measure a part."""
    return replace(FIGURE, asks=partial(AskedParts, at_work=AtWork(request, viewer)))


def _at(fields: list[tuple[str, str]], id: str) -> Response:
    return RedirectResponse(f"{FIGURE.href}?{urlencode(fields)}#{id}", status_code=303)


FIGURE = Figure(
    name="stack",
    title="stack.title",
    about="stack.about",
    make=make,
    family="figures.family.walls",
    asks=AskedParts,
    template="figures/stack.html",
)
