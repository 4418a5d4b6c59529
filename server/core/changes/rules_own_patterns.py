"""Rules: the company's own patterns."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import BadInput, name_of, not_taken, there
from server.core.changes.own_patterns import EndPattern, KeepPattern
from server.core.refusals import message
from server.core.world import OwnPattern, Snapshot

LARGEST = 256 * 1024
"""Bytes of the text of one pattern."""
MOST = 60
"""Patterns of a company; each is loaded with every house."""


@rule(KeepPattern)
def keep_pattern(snapshot: Snapshot, actor: Actor, command: KeepPattern, at: datetime) -> Outcome:
    """A pattern under a name of its own."""
    known = snapshot.own_patterns.get(command.id)
    if known is not None:
        there(snapshot, OwnPattern, command.id, "id")
    standing = [p for p in snapshot.own_patterns.values() if p.ended is None]
    if known is None and len(standing) >= MOST:
        raise BadInput("patterns.too_many", most=MOST)
    if len(command.text.encode("utf-8", "surrogatepass")) > LARGEST:
        raise BadInput("patterns.too_large", field="text", most=LARGEST // 1024)
    if not command.id or not command.text.strip():
        raise BadInput("input.no_name", field="text")
    pattern = replace(
        known or OwnPattern(id=command.id, company_id=snapshot.company.id, name="", text=""),
        name=not_taken(name_of(command.name), (p.name for p in standing if p.id != command.id)),
        text=command.text,
    )
    return Outcome(snapshot.put(pattern), message("log.pattern_kept", pattern=pattern.name))


@rule(EndPattern)
def end_pattern(snapshot: Snapshot, actor: Actor, command: EndPattern, at: datetime) -> Outcome:
    """It stands in the list no more; a detail made from it has all that it needs."""
    pattern = there(snapshot, OwnPattern, command.pattern_id, "pattern_id")
    return Outcome(
        snapshot.put(replace(pattern, ended=at)),
        message("log.pattern_ended", pattern=pattern.name),
    )
