"""The plan of a detail: the page itself, and the routes of its forms."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.kit.viewing import SuperViewing
from server.pages.plan.activities import router as activities
from server.pages.plan.layers import router as layers
from server.pages.plan.orders import router as orders
from server.pages.plan.undoing import router as undoing
from server.pages.plan.undoing import show_plan

router = APIRouter()


@router.get("/d/{short}/plan")
def page(request: Request, viewer: SuperViewing, short: str) -> Response:
    return show_plan(request, viewer, short)


router.include_router(undoing)  # first: what follows takes any word for an activity
router.include_router(layers)
router.include_router(orders)
router.include_router(activities)
