"""Visits asked for and answered, and the dates everyone agrees to."""

from server.pages.visits import routes

__all__ = ["routes"]
