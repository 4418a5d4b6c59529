"""Why a date is where it is: a fold on any forecast date, and a page without a script."""

from server.pages.why import routes

__all__ = ["routes"]
