"""Where people stand: places down, days across, three weeks ahead."""

from server.pages.standing import routes

__all__ = ["routes"]
