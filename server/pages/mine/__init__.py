"""A crew's own page: on now, on next, what is asked of it."""

from server.pages.mine import routes

__all__ = ["routes"]
