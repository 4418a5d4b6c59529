"""The figures of a detail: kept, filled in with what is known, tied to its checks and waits."""

from server.pages.kept_figures import routes

__all__ = ["routes"]
