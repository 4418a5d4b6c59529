"""What stands around the work: drawings, deliveries, temporary works, readings, decisions."""

from server.pages.site import routes

__all__ = ["routes"]
