"""What the super agreed to push, after the program had shown what it moves; who was told."""

from collections.abc import Iterator

from seed_demo.house import SUPER
from seed_demo.month import RAIL, WELL, Detail
from seed_demo.player import Event, Player, moment
from server.core.changes import Command, changed
from server.core.changes.pushing import AgreePush, Hear, PutOff
from server.core.pushed import pushed
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.store.ids import new_id

__all__ = ["events"]


def events() -> Iterator[Event]:
    """Battens put off to Thursday, the stand-offs to Wednesday; who has to hear is called."""
    yield Event(moment("11-24 08:20"), _stand_offs)
    yield Event(moment("11-24 09:05"), _told)
    yield Event(moment("12-01 10:50"), _battens)
    yield Event(moment("12-01 13:45"), _told)


def _stand_offs(player: Player) -> None:
    work = player.activity(RAIL, "set-stand-offs")
    put_off = PutOff(activity_id=work.id, until=moment("12-03 07:00"))
    _agreed(
        player,
        RAIL,
        put_off,
        "Ore Street is on a roof elsewhere till the second; the stand-offs go on Wednesday.",
    )


def _battens(player: Player) -> None:
    work = player.activity(WELL, "battens")
    put_off = PutOff(activity_id=work.id, until=moment("12-04 07:00"))
    _agreed(player, WELL, put_off, "Ore Street sets the stand-offs first, then hangs battens.")


def _agreed(player: Player, detail: Detail, command: Command, cause: str) -> None:
    """As the page does it: what it would push is worked out, shown, and agreed to."""
    house, status = player.now, status_of(player.at)
    after = changed(house, player.actor(SUPER), (command,), player.at)
    push = pushed(house, after, forecast(house, status), forecast(after, status))
    player.give(
        SUPER,
        AgreePush(
            id=new_id(),
            detail_id=detail.id,
            commands=(command,),
            shown=push.digest,
            cause=cause,
        ),
    )


def _told(player: Player) -> None:
    """Everybody who has to hear of something is called."""
    open_ids = tuple(t.id for t in player.now.tellings.values() if t.heard is None)
    if open_ids:
        player.give(SUPER, Hear(telling_ids=open_ids))
