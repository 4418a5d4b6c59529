"""The houses of the company, one house, and the routes of their forms."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.house import crews, details, floors, places, projects, undoing
from server.pages.house.undoing import show_house, show_houses
from server.pages.kit.viewing import SuperViewing

router = APIRouter()


@router.get("/house")
def houses(request: Request, viewer: SuperViewing) -> Response:
    return show_houses(request, viewer)


@router.get("/p/{short}")
def house(request: Request, viewer: SuperViewing, short: str) -> Response:
    return show_house(request, viewer, short)


for part in (projects, crews, places, floors, details, undoing):
    router.include_router(part.router)
