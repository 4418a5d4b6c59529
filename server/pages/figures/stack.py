"""The figure of a stack of tolerances: its page, on which parts are added and taken away.

The address names how many rows there are (`parts`). A press for one more, or to take one away,
leads to the address with the rows as they are then; what was typed goes along as it was typed.
"""

from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.figures.stack import stacked
from server.drawing.stack_bars import stack_bars
from server.pages.figures.asked import Asked
from server.pages.figures.figure import Figure, answer
from server.pages.figures.result import Result
from server.pages.figures.saying import cautions
from server.pages.figures.stack_rows import AskedParts, one_more, rows_of, without
from server.pages.figures.stack_said import answered, drawing_words, notes, parts_table, ranges
from server.pages.kit import Viewing

router = APIRouter()


def make(asked: Asked) -> Result:
    """The stack that was asked for, worked out and said. `asked` has to be of its own kind."""
    assert isinstance(asked, AskedParts)
    figure = stacked(asked.stack())
    asked.check()
    return Result(
        answer=answered(asked, figure),
        groups=(ranges(asked, figure),),
        tables=(parts_table(asked, figure),),
        notes=notes(asked, figure),
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
    return answer(request, viewer, FIGURE)


def _at(fields: list[tuple[str, str]], id: str) -> Response:
    return RedirectResponse(f"{FIGURE.href}?{urlencode(fields)}#{id}", status_code=303)


FIGURE = Figure(
    name="stack",
    title="stack.title",
    about="stack.about",
    make=make,
    asks=AskedParts,
    template="figures/stack.html",
)
