"""The plan of a detail: the desk it is typed on, and the forms that say all of a row or a layer."""

from fastapi import APIRouter

from server.pages.plan.activities import router as activities
from server.pages.plan.desk.routes import router as desk
from server.pages.plan.layers import router as layers
from server.pages.plan.moving import router as moving
from server.pages.plan.orders import router as orders
from server.pages.plan.undoing import router as undoing

router = APIRouter()
router.include_router(desk)
router.include_router(undoing)
router.include_router(layers)
router.include_router(orders)
router.include_router(activities)
router.include_router(moving)
