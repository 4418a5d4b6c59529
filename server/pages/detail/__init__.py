"""The page of a detail: its build-up, the next thing, the order of work, its checks."""

from server.pages.detail import routes

__all__ = ["routes"]
