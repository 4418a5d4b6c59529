"""The dates of a detail: its forecast finish, how it moved and why, and what was promised."""

from server.pages.dates import routes

__all__ = ["routes"]
