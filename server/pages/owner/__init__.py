"""The owner's view: on track or not, what waits on them, what was looked at."""

from server.pages.owner import routes

__all__ = ["routes"]
