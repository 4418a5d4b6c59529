"""One figure: what it is called and how its page is worked out; and how all of them answer."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response

from server.core.figures.base import Profile
from server.core.refusals import Message, Refusal
from server.pages.figures.asked import Asked
from server.pages.figures.profiles import profiles_of
from server.pages.figures.result import Field, Fields, FigurePage, Kept, Result
from server.pages.kit import Form, Refusals, is_partial, render
from server.pages.shared.opened import open_detail
from server.people.viewer import Viewer
from server.words import Words, words

Asks = Callable[[QueryParams, str, Words, Mapping[str, Profile]], Asked]
WHOLE, PART = "figures/_figure.html", "figures/_answer.html"
CALLED = "called"
"""What a figure is to be called, in a form that keeps it."""


@dataclass(frozen=True)
class Figure:
    """A figure under its name in the address. `title` and `about` are message ids.

    `make` reads the form and works the figure out; it may raise any `Refusal`, a `BadFigure` of
    the core among them: its `field` has to be the name of the form's field. `asks` is how its
    form is read, `template` its page, where they are not those of all figures.
    """

    name: str
    title: str
    about: str
    make: Callable[[Asked], Result]
    family: str = "figures.family.stairs"
    asks: Asks = Asked
    template: str = WHOLE

    @property
    def href(self) -> str:
        """Where its page is."""
        return f"/figures/{self.name}"


def answer(request: Request, viewer: Viewer, figure: Figure) -> Response:
    """The page; for htmx only what follows from the numbers: result, drawing, what is wrong."""
    query = request.query_params
    asked, result = worked(viewer, figure, query, profiles_of(request, viewer))
    fields = asked.fields
    page = FigurePage(
        name=figure.name,
        heading=asked.say(figure.title),
        about=asked.say(figure.about),
        form=asked.form,
        fields=fields,
        units=asked.units,
        other_units="mm" if asked.units == "in" else "in",
        result=result,
        wrong=_elsewhere(asked.form, fields),
        given=tuple(_given(field) for group in fields for field in group.fields if field.value),
        kept=_kept(request, viewer, figure, asked),
    )
    template = PART if is_partial(request) else figure.template
    return render(request, viewer, template, page, status=422 if result is None else 200)


def worked(
    viewer: Viewer, figure: Figure, query: QueryParams, profiles: Mapping[str, Profile]
) -> tuple[Asked, Result | None]:
    """What an address asks of a figure, read, and the result; None where something is wrong."""
    asked = figure.asks(query, viewer.person.units, words(viewer.language), profiles)
    return asked, made(figure, asked)


def made(figure: Figure, asked: Asked) -> Result | None:
    """The result, or None where something was refused: then it is kept in the form."""
    try:
        result = figure.make(asked)
        asked.check()
    except Refusals:  # what the form keeps already
        return None
    except Refusal as refusal:
        asked.refuse(refusal)
        return None
    return result


def _kept(request: Request, viewer: Viewer, figure: Figure, asked: Asked) -> Kept | None:
    """With which detail the figure is filled in, if with one; it has to be the viewer's."""
    query = request.query_params
    if not query.get("detail"):
        return None
    opened = open_detail(request, viewer, query["detail"])
    known = opened.snapshot.kept_figures.get(query.get("kept", ""))
    if known is not None and (known.detail_id, known.ended) != (opened.detail_id, None):
        known = None
    return Kept(
        detail_id=opened.detail_id,
        detail=opened.snapshot.details[opened.detail_id].name,
        id=known.id if known else "",
        version=known.version if known else 0,
        called=query.get(CALLED) or (known.name if known else asked.say(figure.title)),
        may_keep=viewer.actor.role == "super",
    )


def _given(field: Field) -> tuple[str, str]:
    """A field as it stands on paper."""
    bare = not field.unit or field.options or any(sign.isalpha() for sign in field.value)
    joint = "" if field.unit in ("%", "°") else " "
    lines = ", ".join(field.said.split("\n"))
    return field.label, lines if bare else f"{lines}{joint}{field.unit}"


def _elsewhere(form: Form, fields: tuple[Fields, ...]) -> tuple[Message, ...]:
    """What is wrong that stands beside no field of the page."""
    named = {field.name for group in fields for field in group.fields}
    return tuple(r.message for r in form.all_refusals if r.field not in named)
