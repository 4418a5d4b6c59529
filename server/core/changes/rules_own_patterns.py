"""Rules: the company's own patterns."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import there
from server.core.changes.own_patterns import EndPattern, KeepPattern
from server.core.changes.own_texts import own_text
from server.core.refusals import message
from server.core.world import OwnPattern, Snapshot

LARGEST = 256 * 1024
"""Bytes of the text of one pattern."""
MOST = 60
"""Patterns of a company; each is loaded with every house."""


@rule(KeepPattern)
def keep_pattern(snapshot: Snapshot, actor: Actor, command: KeepPattern, at: datetime) -> Outcome:
    """A pattern under a name of its own."""
    pattern = own_text(
        snapshot, OwnPattern, command.id, command.name, command.text,
        most=MOST, largest=LARGEST, too_many="patterns.too_many",
    )  # fmt: skip
    return Outcome(snapshot.put(pattern), message("log.pattern_kept", pattern=pattern.name))


@rule(EndPattern)
def end_pattern(snapshot: Snapshot, actor: Actor, command: EndPattern, at: datetime) -> Outcome:
    """It stands in the list no more; a detail made from it has all that it needs."""
    pattern = there(snapshot, OwnPattern, command.pattern_id, "pattern_id")
    return Outcome(
        snapshot.put(replace(pattern, ended=at)),
        message("log.pattern_ended", pattern=pattern.name),
    )
