"""Rules: the company's own limits profiles."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import BadInput, name_of, not_taken, there
from server.core.changes.own_limits import EndLimits, KeepLimits
from server.core.refusals import message
from server.core.world import OwnLimits, Snapshot

LARGEST = 64 * 1024
"""Bytes of the text of one profile."""
MOST = 20
"""Profiles of a company; each is loaded with every house."""


@rule(KeepLimits)
def keep_limits(snapshot: Snapshot, actor: Actor, command: KeepLimits, at: datetime) -> Outcome:
    """A profile under a name of its own."""
    known = snapshot.own_limits.get(command.id)
    if known is not None:
        there(snapshot, OwnLimits, command.id, "id")
    standing = [one for one in snapshot.own_limits.values() if one.ended is None]
    if known is None and len(standing) >= MOST:
        raise BadInput("limits.too_many", most=MOST)
    if len(command.text.encode("utf-8", "surrogatepass")) > LARGEST:
        raise BadInput("patterns.too_large", field="text", most=LARGEST // 1024)
    if not command.id or not command.text.strip():
        raise BadInput("input.no_name", field="text")
    others = (one.name for one in standing if one.id != command.id)
    limits = replace(
        known or OwnLimits(id=command.id, company_id=snapshot.company.id, name="", text=""),
        name=not_taken(name_of(command.name), others),
        text=command.text,
    )
    return Outcome(snapshot.put(limits), message("log.limits_kept", limits=limits.name))


@rule(EndLimits)
def end_limits(snapshot: Snapshot, actor: Actor, command: EndLimits, at: datetime) -> Outcome:
    """It is offered no more; a figure that was printed stays what it was."""
    limits = there(snapshot, OwnLimits, command.limits_id, "limits_id")
    return Outcome(
        snapshot.put(replace(limits, ended=at)), message("log.limits_ended", limits=limits.name)
    )
