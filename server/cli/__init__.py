"""The `stairhold` command, one file per verb."""

from server.cli.command import main

__all__ = ["main"]
