"""A calendar opened for its super, and where its pages are."""

from collections.abc import Mapping
from datetime import date
from urllib.parse import urlencode

from starlette.requests import Request

from server.core.rights import Hidden
from server.core.world import Snapshot, WorkCalendar
from server.core.world.hours import lineage
from server.data.holidays import country_of_zone
from server.pages.kit.web import web_of
from server.people.viewer import Viewer


def calendar_in(company: Snapshot, id: str) -> WorkCalendar:
    """A calendar of the company; `Hidden` where there is none."""
    if id not in company.calendars:
        raise Hidden("rights.hidden")
    return company.calendars[id]


def houses_of(request: Request, viewer: Viewer) -> tuple[Snapshot, ...]:
    """The company's houses that are not ended, as they stand."""
    store = web_of(request).store
    known = store.projects(viewer.company_id)
    return tuple(store.snapshot(house.id) for house in known if house.ended is None)


def country_of(company: Snapshot, houses: tuple[Snapshot, ...], id: str) -> str:
    """Where a calendar is kept: by its holidays, else by the time zone of a house."""
    places = (c.holidays_of for c in lineage(company, id) if c.holidays_of)
    zone = next((h.project.time_zone for h in houses), "")
    return next(places, "").partition("-")[0] or country_of_zone(zone)


def month_address(id: str, month: date, chosen: Mapping[str, str]) -> str:
    """The address of a month, with what a press makes of a day there."""
    said = {name: value for name, value in chosen.items() if value}
    return f"/house/calendars/{id}?{urlencode({'month': f'{month:%Y-%m}', **said})}"
