"""Houses, their floors, places and ways up; the company's crews; new details."""

from server.pages.house import routes

__all__ = ["routes"]
