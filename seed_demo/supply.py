"""What was ordered beside the chains' own deliveries."""

from collections.abc import Iterator

from seed_demo.house import SUPER
from seed_demo.month import GUARD
from seed_demo.player import Event, Player, moment
from server.core.changes.actuals import Order
from server.core.changes.pushing import GiveCause, PutOff
from server.core.changes.stages import StageDelivery
from server.store.ids import new_id

__all__ = ["events"]


def events() -> Iterator[Event]:
    """The light channel: ordered, promised for the day before its visit, and a day late."""
    yield Event(moment("11-24 14:20"), _measured)
    yield Event(moment("11-25 09:10"), _ordered)
    yield Event(moment("12-02 15:10"), _late)
    yield Event(moment("12-03 08:50"), _shipped)


def _measured(player: Player) -> None:
    stage = StageDelivery(activity_id="channelcut", stage="measured", when=player.at)
    player.give(SUPER, stage)


def _ordered(player: Player) -> None:
    promised = moment("12-02 12:00")
    player.give(SUPER, Order(activity_id="channelcut", when=player.at, promised=promised))


def _late(player: Player) -> None:
    why = "The shop drilled the light channel from the wrong end; it comes Thursday at two."
    player.give(
        SUPER,
        PutOff(activity_id="channelcut", until=moment("12-04 14:00")),
        GiveCause(id=new_id(), detail_id=GUARD.id, day=player.at.date(), cause=why),
    )


def _shipped(player: Player) -> None:
    stage = StageDelivery(activity_id="channelcut", stage="shipped", when=player.at)
    player.give(SUPER, stage)
