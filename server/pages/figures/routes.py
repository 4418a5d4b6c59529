"""The index of the figures, each figure's page, and the switch of units."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.people import ChangeOwnWays
from server.pages.figures import limits, stack
from server.pages.figures.figure import Figure, answer
from server.pages.figures.known import FIGURES, figure_named
from server.pages.kit import Form, Viewing, press, render
from server.pages.sign_in.routes import Sent

router = APIRouter()


@dataclass(frozen=True)
class IndexPage:
    """The figures by family: the family's heading, its figures."""

    families: tuple[tuple[str, tuple[Figure, ...]], ...]


@router.get("/figures")
def index(request: Request, viewer: Viewing) -> Response:
    families = groupby(FIGURES, key=lambda figure: figure.family)
    page = IndexPage(tuple((family, tuple(figures)) for family, figures in families))
    return render(request, viewer, "figures/index.html", page)


router.include_router(limits.router)  # before what takes any name
router.include_router(stack.router)


@router.post("/figures/{figure}/units")
def units(request: Request, viewer: Viewing, form: Sent, figure: str) -> Response:
    """Inches or millimeters on one's own pages from now on, and the same figure in them."""
    to = f"{figure_named(request, viewer, figure).href}?{urlencode(tuple(_kept(form)))}"

    def again(form: Form, status: int) -> Response:
        raise form.all_refusals[0]

    return press(
        request,
        viewer,
        form,
        None,
        lambda: (
            ChangeOwnWays(
                person_id=viewer.person.id,
                language=viewer.person.language,
                units=form.text("to", most=4) or viewer.person.units,
            ),
        ),
        to=to,
        again=again,
    )


@router.get("/figures/{figure}")
def page(request: Request, viewer: Viewing, figure: str) -> Response:
    return answer(request, viewer, figure_named(request, viewer, figure))


def _kept(form: Form) -> Iterator[tuple[str, str]]:
    """What was typed, for the address."""
    for name, values in form.fields.items():
        yield from ((name, value) for value in values)
