"""The wall sheet of a detail: one page of paper, printed and taped up."""

from server.pages.sheet import routes

__all__ = ["routes"]
