"""What it pushes: another date shown with all it moves, then agreed or dropped."""

from server.pages.push import routes

__all__ = ["routes"]
