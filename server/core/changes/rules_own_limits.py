"""Rules: the company's own limits profiles."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import there
from server.core.changes.own_limits import EndLimits, KeepLimits
from server.core.changes.own_texts import own_text
from server.core.refusals import message
from server.core.world import OwnLimits, Snapshot

LARGEST = 64 * 1024
"""Bytes of the text of one profile."""
MOST = 20
"""Profiles of a company; each is loaded with every house."""


@rule(KeepLimits)
def keep_limits(snapshot: Snapshot, actor: Actor, command: KeepLimits, at: datetime) -> Outcome:
    """A profile under a name of its own."""
    limits = own_text(
        snapshot, OwnLimits, command.id, command.name, command.text,
        most=MOST, largest=LARGEST, too_many="limits.too_many",
    )  # fmt: skip
    return Outcome(snapshot.put(limits), message("log.limits_kept", limits=limits.name))


@rule(EndLimits)
def end_limits(snapshot: Snapshot, actor: Actor, command: EndLimits, at: datetime) -> Outcome:
    """It is offered no more; a figure that was printed stays what it was."""
    limits = there(snapshot, OwnLimits, command.limits_id, "limits_id")
    return Outcome(
        snapshot.put(replace(limits, ended=at)), message("log.limits_ended", limits=limits.name)
    )
