"""The page of a check: what to look for, numbers and photos in, OK to cover or not."""

from server.pages.check import routes

__all__ = ["routes"]
