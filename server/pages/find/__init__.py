"""Finding details, work, checks, crews, places, people and drawings by name."""

from server.pages.find import routes

__all__ = ["routes"]
