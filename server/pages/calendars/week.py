"""Forms: a calendar of the company, new, or under another name, with another week."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.places import KeepCalendar
from server.core.world import Snapshot, WorkCalendar
from server.core.world.hours import lineage
from server.pages.calendars.opening import calendar_in
from server.pages.house.context import shifts_by_day
from server.pages.house.hours import WEEKDAYS, read_week
from server.pages.house.opening import company_of, send
from server.pages.kit.forms import Form
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
USUAL = "7:00-12:00, 12:30-15:30"


@router.get("/house/calendars/new")
def new(request: Request, viewer: SuperViewing) -> Response:
    week = {f"day_{number}": (USUAL,) for number in range(5)}
    return _show(request, viewer, company_of(request, viewer), Form(week), 200, None)


@router.get("/house/calendars/{id}/week")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    company = company_of(request, viewer)
    calendar = calendar_in(company, id)
    fields = {
        "name": calendar.name,
        "based_on_id": calendar.based_on_id or "",
        **{f"day_{day}": text for day, text in shifts_by_day(calendar.shifts).items()},
    }
    form = Form({name: (value,) for name, value in fields.items()})
    return _show(request, viewer, company, form, 200, calendar)


@router.post("/house/calendars/new")
def add(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    return _keep(request, viewer, form, company_of(request, viewer), None)


@router.post("/house/calendars/{id}/week")
def keep(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    return _keep(request, viewer, form, company, calendar_in(company, id))


def _keep(
    request: Request,
    viewer: Viewer,
    form: Form,
    company: Snapshot,
    calendar: WorkCalendar | None,
) -> Response:
    id = calendar.id if calendar else next(ids_of(viewer, form))

    def command() -> KeepCalendar:
        return KeepCalendar(
            id=id,
            name=form.text("name", needed=True, most=120),
            shifts=read_week(form),
            based_on_id=form.text("based_on_id", most=40) or None,
            seen=seen(form, id),
        )

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, company, form, status, calendar),
        f"/house/calendars/{id}",
    )  # fmt: skip


def _show(
    request: Request,
    viewer: Viewer,
    company: Snapshot,
    form: Form,
    status: int,
    calendar: WorkCalendar | None,
) -> Response:
    page = FormPage(
        form=form,
        heading=calendar.name if calendar else "Add a calendar",
        above="Its name, its week, what it follows",
        back=f"/house/calendars/{calendar.id}" if calendar else "/house",
        action=f"/house/calendars/{calendar.id}/week" if calendar else "/house/calendars/new",
        options={"based_on_id": (("", "no other"), *_may_follow(company, calendar))},
        about={"weekdays": WEEKDAYS},
        version=calendar.version if calendar else 0,
    )
    return shown(request, viewer, "calendars/week.html", page, status)


def _may_follow(company: Snapshot, calendar: WorkCalendar | None) -> tuple[tuple[str, str], ...]:
    """The calendars that do not follow this one themselves."""
    return tuple(
        (c.id, c.name)
        for c in company.calendars.values()
        if calendar is None or all(one.id != calendar.id for one in lineage(company, c.id))
    )
