"""The people of the company: who may look, by which link, on which phone."""

from server.pages.people import routes

__all__ = ["routes"]
