"""The plan of a detail: its order of work, layers and checks, put right in plain forms."""

from server.pages.plan import routes

__all__ = ["routes"]
