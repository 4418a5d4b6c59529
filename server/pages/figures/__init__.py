"""The figures that the chain hangs on, each a form, a drawing to scale and its numbers."""

from server.pages.figures import routes

__all__ = ["routes"]
