"""What it pushes: another date shown with all it moves, then agreed or dropped."""

from server.pages.push import mends, routes

routes.router.include_router(mends.router)

__all__ = ["routes"]
