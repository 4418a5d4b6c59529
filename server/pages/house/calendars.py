"""Forms: a calendar of the company, new or with other hours."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.places import KeepCalendar
from server.core.rights import Hidden
from server.core.world import Snapshot, WorkCalendar
from server.pages.house.context import shifts_by_day
from server.pages.house.hours import (
    WEEKDAYS,
    day_written,
    hours_written,
    read_closed,
    read_extra,
    read_week,
)
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


@router.get("/house/calendars/{id}")
def one(request: Request, viewer: SuperViewing, id: str) -> Response:
    company = company_of(request, viewer)
    calendar = _calendar(company, id)
    fields = {
        "name": calendar.name,
        "closed": "\n".join(day_written(day) for day in calendar.closed),
        "extra": _extra(calendar),
        **{f"day_{day}": text for day, text in shifts_by_day(calendar.shifts).items()},
    }
    form = Form({name: (value,) for name, value in fields.items()})
    return _show(request, viewer, company, form, 200, calendar)


@router.post("/house/calendars/{id}")
def keep(request: Request, viewer: SuperViewing, form: Sent, id: str) -> Response:
    company = company_of(request, viewer)
    calendar = None if id == "new" else _calendar(company, id)

    def command() -> KeepCalendar:
        return KeepCalendar(
            id=calendar.id if calendar else next(ids_of(viewer, form)),
            name=form.text("name", needed=True, most=120),
            shifts=read_week(form),
            closed=read_closed(form),
            extra=read_extra(form),
            seen=seen(form, id),
        )

    return send(
        request, viewer, form, company, command,
        lambda form, status: _show(request, viewer, company, form, status, calendar),
        "/house",
    )  # fmt: skip


def _calendar(company: Snapshot, id: str) -> WorkCalendar:
    if id not in company.calendars:
        raise Hidden("rights.hidden")
    return company.calendars[id]


def _extra(calendar: WorkCalendar) -> str:
    days: dict[str, list[tuple[str, str]]] = {}
    for line in calendar.extra:
        day, start, end = line.split()
        days.setdefault(day, []).append((start, end))
    return "\n".join(f"{day} {hours_written(hours)}" for day, hours in days.items())


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
        above="When somebody works",
        back="/house",
        action=f"/house/calendars/{calendar.id if calendar else 'new'}",
        about={"weekdays": WEEKDAYS},
        version=calendar.version if calendar else 0,
    )
    return shown(request, viewer, "house/calendar.html", page, status)
