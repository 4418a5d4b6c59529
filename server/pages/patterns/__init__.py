"""The company's own patterns: kept from a detail or a file, taken as a file; copies of details."""

from server.pages.patterns import routes

__all__ = ["routes"]
