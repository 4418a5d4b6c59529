"""The routes that move things about in a plan: rows, halves of tasks, sides and layers."""

from fastapi import APIRouter

from server.pages.plan.halves import router as halves
from server.pages.plan.rows import router as rows
from server.pages.plan.sides import router as sides

router = APIRouter()
router.include_router(sides)
router.include_router(rows)
router.include_router(halves)
