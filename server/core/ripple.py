"""What it pushes: two snapshots of a project compared, before and after a change.

What moves by working days, which visits break, which crews must hear, which warnings come and go,
per detail and in all. It is shown before a change is agreed, and it is what the change then does:
both are made by the same rules.
"""

from dataclasses import dataclass
from datetime import datetime

from server.core.pushed import Pushed, pushed
from server.core.schedule import Schedule
from server.core.warnings import Warning, found
from server.core.world import Snapshot
from server.core.world.hours import working_days
from server.core.world.network import forecast


@dataclass(frozen=True)
class Ripple:
    """The difference. `days` is how many working days later the whole project finishes."""

    pushed: Pushed
    was: datetime
    now: datetime
    days: int
    come: tuple[Warning, ...]
    go: tuple[Warning, ...]


def ripple(
    before: Snapshot, after: Snapshot, status: datetime, was: Schedule | None = None
) -> Ripple:
    """What differs between two snapshots of one project, both as of `status`.

    `was` is the forecast of `before`, if it is known already. Warnings are told apart by what they
    are about: one that goes on with other facts neither comes nor goes.
    """
    was = was or forecast(before, status)
    now = forecast(after, status)
    old, new = found(before, was), found(after, now)
    known, still = {(w.rule, w.subject) for w in old}, {(w.rule, w.subject) for w in new}
    return Ripple(
        pushed=pushed(before, after, was, now),
        was=was.finish,
        now=now.finish,
        days=working_days(after, was.finish.date(), now.finish.date()),
        come=tuple(w for w in new if (w.rule, w.subject) not in known),
        go=tuple(w for w in old if (w.rule, w.subject) not in still),
    )
