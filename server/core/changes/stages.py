"""Commands for what happens on the way to a delivery or to work: stages reached, a circuit dead."""

from dataclasses import dataclass
from datetime import datetime

from server.core.changes.base import Command


@dataclass(frozen=True, kw_only=True)
class StageDelivery(Command):
    """A delivery has come so far: "measured", "drawn", "approved" or "shipped".

    A stage that was recorded at a wrong time is recorded again.
    """

    activity_id: str
    stage: str
    when: datetime


@dataclass(frozen=True, kw_only=True)
class CircuitDead(Command):
    """The licensed electrician says that the circuit worked in is dead, tried and locked."""

    activity_id: str
    when: datetime
