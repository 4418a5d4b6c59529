"""The morning sheet: per house who goes next, what waits on whom, what is wrong."""

from server.pages.morning import routes

__all__ = ["routes"]
