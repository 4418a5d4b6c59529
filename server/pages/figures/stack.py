"""The figure of a stack of tolerances: its page, on which parts are added and taken away.

The address names how many rows there are (`parts`). A press for one more, or to take one away,
leads to the address with the rows as they are then; what was typed goes along as it was typed.
"""

from dataclasses import dataclass
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.core.figures.stack import stacked
from server.core.refusals import Refusal
from server.drawing.stack_bars import stack_bars
from server.pages.figures.asked import Asked
from server.pages.figures.figure import PART, Figure
from server.pages.figures.profiles import profiles_of
from server.pages.figures.result import Fields, FigurePage, Result
from server.pages.figures.saying import cautions
from server.pages.figures.stack_rows import MOST, AskedParts, one_more, rows_of, without
from server.pages.figures.stack_said import answered, drawing_words, notes, parts_table, ranges
from server.pages.kit import Refusals, Viewing, is_partial, render
from server.people.viewer import Viewer
from server.words import words

router = APIRouter()
PAGE = "figures/stack.html"


@dataclass(frozen=True)
class StackPage(FigurePage):
    """The page of a stack: rows of parts, then what is wanted of the gap."""

    rows: tuple[Fields, ...] = ()
    wanted: tuple[Fields, ...] = ()
    may_add: bool = True


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
        rows = one_more(query)
        return _at(rows, f"name-{rows_of(QueryParams(rows))}")
    if "without" in query:
        return _at(without(query), "parts")
    return answer(request, viewer, query)


def answer(request: Request, viewer: Viewer, query: QueryParams) -> Response:
    """The page; for htmx only what follows from the numbers."""
    asked = AskedParts(
        query, viewer.person.units, words(viewer.language), profiles_of(request, viewer)
    )
    result = _made(asked)
    fields = asked.fields
    rows, wanted = fields[: asked.count], fields[asked.count :]
    page = StackPage(
        name=FIGURE.name,
        heading=asked.say(FIGURE.title),
        about=asked.say(FIGURE.about),
        form=asked.form,
        fields=fields,
        units=asked.units,
        other_units="mm" if asked.units == "in" else "in",
        result=result,
        given=tuple(
            (field.label, f"{field.value} {field.unit}")
            for group in wanted
            for field in group.fields
            if field.value
        ),
        rows=rows,
        wanted=wanted,
        may_add=asked.count < MOST,
    )
    template = PART if is_partial(request) else PAGE
    return render(request, viewer, template, page, status=422 if result is None else 200)


def _made(asked: AskedParts) -> Result | None:
    try:
        return make(asked)
    except Refusals:  # what the form keeps already
        return None
    except Refusal as refusal:
        asked.refuse(refusal)
        return None


def _at(fields: list[tuple[str, str]], id: str) -> Response:
    return RedirectResponse(f"/figures/stack?{urlencode(fields)}#{id}", status_code=303)


FIGURE = Figure(name="stack", title="stack.title", about="stack.about", make=make)
