"""One limit of a profile of the company's own: its numbers, where they stand, how known."""

from fractions import Fraction

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.own_limits import KeepLimits
from server.core.figures.base import Limit
from server.core.figures.limit_names import LIMITS, UNITS_OF
from server.core.measure.units import UNITS
from server.core.refusals import Message, message
from server.core.rights import Hidden
from server.core.world import Snapshot
from server.data.limits import OWN, TAGS
from server.data.limits_writing import exact, with_limit
from server.data.tables import LONGEST
from server.pages.figures.profiles import KnownLimits, known_limits
from server.pages.figures.saying import SOURCES
from server.pages.house.opening import company_of, send
from server.pages.kit.forms import BadField, Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, Options, seen, shown
from server.pages.plan.writing import number_written, read_number
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.words import Words, words

router = APIRouter()


@router.get("/figures/limits/{id}/{limit}")
def page(request: Request, viewer: SuperViewing, id: str, limit: str) -> Response:
    known = _own(company_of(request, viewer), id, limit)
    return _show(request, viewer, _begun(known, limit), 200, known, limit)


@router.post("/figures/limits/{id}/{limit}")
def keep(request: Request, viewer: SuperViewing, form: Sent, id: str, limit: str) -> Response:
    company = company_of(request, viewer)
    known = _own(company, id, limit)

    def command() -> KeepLimits:
        new = None if form.ticked("drop") else _typed(form, limit)
        if new is None and known.profile is not None and set(known.profile.limits) == {limit}:
            raise BadField("limits.last")
        text = with_limit(known.text, limit, new)
        return KeepLimits(id=id, name=known.name, text=text, seen=seen(form, id))

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, form, status, known, limit),
        f"/figures/limits/{id}#{limit}",
    )  # fmt: skip


def more_limits(known: KnownLimits, said: Words) -> Options:
    """The limits that a profile does not have, by name and in words."""
    there = known.profile.limits if known.profile else {}
    return tuple((name, said.say(_what(name))) for name in LIMITS if name not in there)


def _own(company: Snapshot, id: str, limit: str) -> KnownLimits:
    """The company's own profile, which can be read; `Hidden` where it is none or the limit is."""
    known = known_limits(company, id)
    if known is None or known.own is None or known.profile is None or limit not in LIMITS:
        raise Hidden("rights.hidden")
    return known


def _begun(known: KnownLimits, name: str) -> Form:
    """The form as the limit stands."""
    assert known.profile is not None
    limit = known.profile.limits.get(name)
    if limit is None:
        return Form({"tag": (OWN,)})
    ends = {
        end: number_written(None if value is None else exact(value))
        for end, value in (("least", limit.least), ("most", limit.most))
    }
    typed = {**ends, "unit": limit.unit, "section": limit.section, "source": limit.source}
    return Form({**{k: (v,) for k, v in typed.items()}, "tag": (limit.tag or OWN,)})


def _typed(form: Form, name: str) -> Limit:
    """The limit that was typed; what is wrong is kept beside its field."""
    units = UNITS_OF[LIMITS[name]]
    unit = form.typed("unit", units[0])
    if unit not in units:
        form.refuse(BadField("input.not_a_choice", field="unit", chosen=unit[:40]))
        unit = units[0]
    tag = form.typed("tag", OWN)
    if tag not in TAGS:
        form.refuse(BadField("input.not_a_choice", field="tag", chosen=tag[:40]))
    least, most = (_end(form, end, unit) for end in ("least", "most"))
    section = form.text("section", most=LONGEST)
    source = form.text("source", most=LONGEST)
    if least is None and most is None and not form.refusals:
        form.refuse(BadField("limits.no_number", field="most"))
    if least is not None and most is not None and least > most:
        form.refuse(BadField("limits.wrong_way", field="least"))
    form.check()
    return Limit(
        unit=unit,
        least=None if least is None else float(least),
        most=None if most is None else float(most),
        section=section,
        tag="" if tag == OWN else tag,
        source=source,
    )


def _end(form: Form, name: str, unit: str) -> Fraction | None:
    value = read_number(form, name, unit if unit in UNITS else "count")
    if value is not None and value < 0:
        form.refuse(BadField("limits.below_zero", field=name))
    return value


def _what(name: str) -> Message:
    return message("figures.limit_said", what=name)


def _show(
    request: Request, viewer: Viewer, form: Form, status: int, known: KnownLimits, name: str
) -> Response:
    said = words(viewer.language)
    units = UNITS_OF[LIMITS[name]]
    assert known.own is not None
    assert known.profile is not None
    tags = ((tag, said.say(Message(SOURCES.get(tag) or "limits.tag.own"))) for tag in TAGS)
    page = FormPage(
        form=form,
        heading=said.say(_what(name)),
        above=known.name,
        back=f"/figures/limits/{known.id}",
        action=f"/figures/limits/{known.id}/{name}",
        options={"unit": tuple((unit, unit) for unit in units), "tag": tuple(tags)},
        about={"there": name in known.profile.limits, "unit": _unit(units[0], said)},
        version=known.own.version,
    )
    return shown(request, viewer, "figures/one_limit.html", page, status)


def _unit(unit: str, said: Words) -> str:
    """A unit as it stands behind the numbers of a limit that has but one; "" for a count."""
    written = said.length(Fraction(2), unit)
    return written.removeprefix("2").strip()
