"""A calendar drawn as a month that is pressed; its name and week; its public holidays."""

from server.pages.calendars import routes

__all__ = ["routes"]
