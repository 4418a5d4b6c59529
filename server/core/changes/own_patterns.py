"""Commands about the company's own patterns."""

from dataclasses import dataclass

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class KeepPattern(Command):
    """A pattern of the company's own, new or changed; see `world.OwnPattern`.

    Whoever gives it has read `text` as a pattern of this name: the core reads no files.
    """

    id: str
    name: str
    text: str


@dataclass(frozen=True, kw_only=True)
class EndPattern(Command):
    """A pattern that no new detail is made from; those that were stay as they are."""

    pattern_id: str
