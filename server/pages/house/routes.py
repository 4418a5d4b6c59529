"""The houses of the company, one house, and the routes of their forms."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.core.world.clock import status_of
from server.pages.house import calendars, crews, details, floors, places, projects
from server.pages.house.context import house_page, houses_page
from server.pages.house.opening import company_of, house_of, now_of
from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.kit.web import web_of

router = APIRouter()


@router.get("/house")
def houses(request: Request, viewer: SuperViewing) -> Response:
    known = web_of(request).store.projects(viewer.company_id)
    context = houses_page(company_of(request, viewer), known)
    return render(request, viewer, "house/houses.html", context)


@router.get("/p/{short}")
def house(request: Request, viewer: SuperViewing, short: str) -> Response:
    snapshot = house_of(request, viewer, short)
    now = now_of(request, snapshot)
    context = house_page(snapshot, status_of(now))
    return render(request, viewer, "house/house.html", context, now=now)


for part in (projects, calendars, crews, places, floors, details):
    router.include_router(part.router)
