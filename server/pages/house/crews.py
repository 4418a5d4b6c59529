"""Forms: a crew of the company, new, changed, or not coming any more."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.calendars import GiveCrewHours
from server.core.changes.people import EndCrew, KeepCrew
from server.core.rights import Hidden
from server.core.world import Crew, Snapshot
from server.pages.calendars.opening import houses_of
from server.pages.house.opening import company_of, refuse_elsewhere, send
from server.pages.kit.forms import CLOCK_DAY, Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.plan.writing import span_written
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer
from server.words import languages

router = APIRouter()
HALF_DAY = 240
NAMES = {"en": "English", "es": "Spanish", "pt-BR": "Portuguese", "pt": "Portuguese"}


@router.get("/house/crews/new")
def new(request: Request, viewer: SuperViewing) -> Response:
    start = Form({"can_field": ("1",), "least_visit": ("4 h",), "notice": ("1 d",)})
    return _show(request, viewer, company_of(request, viewer), start, 200, None)


@router.get("/house/crews/{id}")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    company = company_of(request, viewer)
    crew = _crew(company, id)
    return _show(request, viewer, company, Form(_fields(crew)), 200, crew)


@router.post("/house/crews/{id}")
def keep(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    crew = None if id == "new" else _crew(company, id)

    def command() -> KeepCrew | EndCrew:
        if crew is not None and form.ticked("end"):
            end = EndCrew(crew_id=crew.id, seen=seen(form, crew.id))
            refuse_elsewhere(request, viewer, end)
            return end
        return KeepCrew(
            id=crew.id if crew else next(ids_of(viewer, form)),
            name=form.text("name", needed=True, most=120),
            trade=form.text("trade", needed=True, most=40),
            foreman=form.text("foreman", most=120),
            phone=form.text("phone", most=40),
            language=form.typed("language", "en"),
            calendar_id=form.text("calendar_id", most=40) or None,
            can_field=form.whole("can_field", 1, least=1, most=50),
            least_visit=form.minutes("least_visit", HALF_DAY) or 0,
            notice=form.minutes("notice", CLOCK_DAY, day=CLOCK_DAY) or 0,
            seen=seen(form, id),
        )

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, company, form, status, crew),
        "/house",
    )  # fmt: skip


@router.post("/house/crews/{id}/hours")
def give_hours(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    crew = _crew(company, id)
    own_id = next(ids_of(viewer, form))
    return send(
        request, viewer, form, company,
        lambda: GiveCrewHours(
            id=own_id,
            crew_id=crew.id,
            follows_id=form.text("follows_id", needed=True, most=40),
            seen=seen(form, crew.id),
        ),
        lambda form, status: _show(
            request, viewer, company, Form(_fields(crew), refusals=form.refusals), status, crew
        ),
        f"/house/calendars/{own_id}",
    )  # fmt: skip


def _crew(company: Snapshot, id: str) -> Crew:
    crew = company.crews.get(id)
    if crew is None or crew.ended is not None:
        raise Hidden("rights.hidden")
    return crew


def _fields(crew: Crew) -> dict[str, tuple[str, ...]]:
    """A crew as its form starts."""
    fields = {
        "name": crew.name,
        "trade": crew.trade,
        "foreman": crew.foreman,
        "phone": crew.phone,
        "language": crew.language,
        "calendar_id": crew.calendar_id or "",
        "can_field": str(crew.can_field),
        "least_visit": span_written(crew.least_visit),
        "notice": span_written(crew.notice, CLOCK_DAY),
    }
    return {name: (value,) for name, value in fields.items()}


def _follows(request: Request, viewer: Viewer, company: Snapshot, crew: Crew) -> str:
    """The calendar that a crew's own hours would follow: its present one, else the house's."""
    houses = houses_of(request, viewer)
    sites = [house.project.calendar_id for house in houses]
    return crew.calendar_id or next(iter((*sites, *company.calendars)), "")


def _has_own(company: Snapshot, crew: Crew) -> bool:
    """Whether a crew keeps a calendar that follows another and that no other crew keeps."""
    kept = company.calendars.get(crew.calendar_id or "")
    sharing = [c for c in company.crews.values() if c.calendar_id == crew.calendar_id]
    return kept is not None and kept.based_on_id is not None and len(sharing) == 1


def _show(
    request: Request,
    viewer: Viewer,
    company: Snapshot,
    form: Form,
    status: int,
    crew: Crew | None,
) -> Response:
    calendars = tuple((c.id, c.name) for c in company.calendars.values())
    known = dict.fromkeys((*languages(), *((crew.language,) if crew else ())))
    kept = company.calendars.get(crew.calendar_id or "") if crew else None
    page = FormPage(
        form=form,
        heading=crew.name if crew else "Add a crew",
        above="Who they are, when they work, what notice they want",
        back="/house",
        action=f"/house/crews/{crew.id if crew else 'new'}",
        options={
            "calendar_id": (("", "the house's"), *calendars),
            "language": tuple((code, NAMES.get(code, code)) for code in known),
        },
        about={
            "trades": company.company.trades,
            "new": crew is None,
            "kept": kept,
            "has_own": crew is not None and _has_own(company, crew),
            "follows": _follows(request, viewer, company, crew) if crew else "",
            "calendars": calendars,
        },
        version=crew.version if crew else 0,
    )
    return shown(request, viewer, "house/crew.html", page, status)
