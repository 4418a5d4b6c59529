"""The plan of a detail: the page itself, and the routes of its forms."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.kit.render import render
from server.pages.kit.viewing import SuperViewing
from server.pages.plan.activities import router as activities
from server.pages.plan.context import plan_page
from server.pages.plan.layers import router as layers
from server.pages.plan.moving import router as moving
from server.pages.plan.orders import router as orders
from server.pages.shared.opened import open_detail

router = APIRouter()


@router.get("/d/{short}/plan")
def page(request: Request, viewer: SuperViewing, short: str) -> Response:
    opened = open_detail(request, viewer, short)
    return render(request, viewer, "plan/page.html", plan_page(opened), now=opened.now)


router.include_router(layers)
router.include_router(orders)
router.include_router(activities)
router.include_router(moving)
