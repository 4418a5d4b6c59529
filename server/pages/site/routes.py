"""The screens of what stands around the work of a house."""

from fastapi import APIRouter

from server.pages.site import decisions, deliveries, drawings, readings, temporaries

router = APIRouter()

for part in (drawings, deliveries, temporaries, readings, decisions):
    router.include_router(part.router)
