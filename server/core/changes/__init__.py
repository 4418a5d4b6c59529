"""What can be done: command dataclasses by family, and their pure rules (`rules_*`)."""

from server.core.changes.base import Actor, ChangedSince, Command, Gone, Outcome, change

__all__ = ["Actor", "ChangedSince", "Command", "Gone", "Outcome", "change"]
