"""Photos: taken in as drafts of a check, shown to who may look."""

from server.pages.photos import routes

__all__ = ["routes"]
