"""Commands about the company's own limits profiles."""

from dataclasses import dataclass

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class KeepLimits(Command):
    """A limits profile of the company's own, new or changed; see `world.OwnLimits`.

    Whoever gives it has read `text` as a profile of this name: the core reads no files.
    """

    id: str
    name: str
    text: str


@dataclass(frozen=True, kw_only=True)
class EndLimits(Command):
    """A profile that is not offered any more."""

    limits_id: str
