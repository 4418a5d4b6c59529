"""Forms: a house is started, or gets another name, start or calendar."""

from datetime import datetime
from zoneinfo import available_timezones

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.changes.places import ChangeProject, StartProject
from server.core.world import Snapshot
from server.pages.house.opening import company_of, house_of, send
from server.pages.kit.forms import BadField, Form
from server.pages.kit.viewing import SuperViewing
from server.pages.kit.web import web_of
from server.pages.plan.pressing import FormPage, ids_of, seen, shown
from server.pages.sign_in.routes import Sent
from server.people.viewer import Viewer

router = APIRouter()
ZONES = (
    ("America/New_York", "Eastern"),
    ("America/Chicago", "Central"),
    ("America/Denver", "Mountain"),
    ("America/Phoenix", "Arizona"),
    ("America/Los_Angeles", "Pacific"),
    ("America/Anchorage", "Alaska"),
    ("Pacific/Honolulu", "Hawaii"),
    ("", "another, named below"),
)
NO_START = datetime(1990, 1, 1, 7)


@router.get("/house/new")
def new(request: Request, viewer: SuperViewing) -> Response:
    houses = web_of(request).store.projects(viewer.company_id)
    zone = houses[-1].time_zone if houses else ZONES[0][0]
    listed = zone in dict(ZONES)
    start = {"time_zone": (zone if listed else "",), "other_zone": ("" if listed else zone,)}
    return _show(request, viewer, company_of(request, viewer), Form(start), 200)


@router.post("/house/new")
def start(request: Request, viewer: SuperViewing, form: Sent) -> Response:
    company = company_of(request, viewer)
    id = next(ids_of(viewer, form))
    return send(
        request, viewer, form, company,
        lambda: StartProject(
            id=id,
            name=form.text("name", needed=True, most=120),
            time_zone=_zone(form),
            start=_start(form),
            calendar_id=form.text("calendar_id", needed=True, most=40),
            about=form.text("about"),
        ),
        lambda form, status: _show(request, viewer, company, form, status),
        f"/p/{id}",
    )  # fmt: skip


@router.get("/p/{short}/change")
def one(request: Request, viewer: SuperViewing, short: str) -> Response:
    snapshot = house_of(request, viewer, short)
    house = snapshot.project
    listed = house.time_zone in dict(ZONES)
    fields = {
        "name": house.name,
        "time_zone": house.time_zone if listed else "",
        "other_zone": "" if listed else house.time_zone,
        "start": house.start.isoformat(timespec="minutes"),
        "calendar_id": house.calendar_id,
        "about": house.about,
    }
    form = Form({name: (value,) for name, value in fields.items()})
    return _show(request, viewer, snapshot, form, 200)


@router.post("/p/{short}/change")
def put_right(request: Request, viewer: SuperViewing, form: Sent, short: str) -> Response:
    snapshot = house_of(request, viewer, short)
    return send(
        request, viewer, form, snapshot,
        lambda: ChangeProject(
            project_id=short,
            name=form.text("name", needed=True, most=120),
            time_zone=_zone(form),
            start=_start(form),
            calendar_id=form.text("calendar_id", needed=True, most=40),
            about=form.text("about"),
            seen=seen(form, short),
        ),
        lambda form, status: _show(request, viewer, snapshot, form, status),
        f"/p/{short}",
    )  # fmt: skip


def _zone(form: Form) -> str:
    other = form.text("other_zone", most=60)
    zone = other or form.typed("time_zone")
    if zone not in available_timezones():
        field = "other_zone" if other else "time_zone"
        form.refuse(BadField("places.no_zone", field=field))
        return "UTC"
    return zone


def _start(form: Form) -> datetime:
    """The day and hour it starts; a stand-in, with a refusal, where nothing was typed."""
    known = len(form.refusals)
    start = form.moment("start")
    if start is None and len(form.refusals) == known:
        form.refuse(BadField("form.needed", field="start"))
    return start or NO_START


def _show(
    request: Request, viewer: Viewer, snapshot: Snapshot, form: Form, status: int
) -> Response:
    house = next(iter(snapshot.projects.values()), None)
    page = FormPage(
        form=form,
        heading=house.name if house else "Start a house",
        above="Name, start, hours" if house else snapshot.company.name,
        back=f"/p/{house.id}" if house else "/house",
        action=f"/p/{house.id}/change" if house else "/house/new",
        options={
            "time_zone": ZONES,
            "calendar_id": tuple((c.id, c.name) for c in snapshot.calendars.values()),
        },
        version=house.version if house else 0,
    )
    return shown(request, viewer, "house/project.html", page, status)
