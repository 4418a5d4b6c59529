"""Visits asked for and answered."""

from server.pages.visits import routes

__all__ = ["routes"]
