"""How the dates of the month went: promised, moved, and why, as people said it at the time."""

from collections.abc import Iterator

from seed_demo.house import SUPER
from seed_demo.month import DETAILS, FLIGHT, GLASS, GUARD, RAIL, WELL, Detail
from seed_demo.player import Event, Player, moment
from server.core.changes import Command
from server.core.changes.actuals import SetRemaining
from server.core.changes.bookings import AgreeDates
from server.core.changes.pushing import GiveCause, PutOff
from server.store.ids import new_id

__all__ = ["events"]

# detail, the day that it moved, when the super said why, why
CAUSES: tuple[tuple[Detail, str, str, str], ...] = (
    (
        FLIGHT,
        "11-05",
        "11-06 07:20",
        "The hanger sheet is not here yet; the pattern stringer waits for it.",
    ),
    (
        FLIGHT,
        "11-10",
        "11-10 15:30",
        "Sheet S-4 came, and Thimble Hill cuts the pattern tomorrow.",
    ),
    (
        FLIGHT,
        "11-16",
        "11-17 07:40",
        "The town looks at the wire first, and has no hour for it before Thursday.",
    ),
    (
        FLIGHT,
        "11-26",
        "11-26 14:10",
        "Thimble Hill is away over the holiday and comes to the sub-treads on Tuesday, not Monday.",
    ),
    (
        GUARD,
        "11-10",
        "11-10 16:20",
        "How the base is tied down is still open; Tobias wants to see the rim first.",
    ),
    (GUARD, "11-11", "11-11 16:10", "Sheet S-5 is here, a day after we looked at the rim."),
    (GUARD, "11-12", "11-12 15:00", "The long bolts for the fins come tomorrow."),
    (
        GUARD,
        "11-18",
        "11-19 07:10",
        "The town comes for the wire on Monday the 24th; no skin goes on before.",
    ),
    (
        GLASS,
        "11-24",
        "11-24 11:20",
        "A-9 came again with another shoe; the beam is looked at once more against it.",
    ),
    (
        WELL,
        "11-17",
        "11-17 16:00",
        "Haymow comes to the well only when its lift is done at the other house.",
    ),
)
# detail, when, why it was promised anew
AGAIN = (
    (RAIL, "11-10 11:00", "The fastening was decided early; Hobnail keeps the days in January."),
    (GUARD, "11-12 15:10", "Sheet S-5 is here; it can all come earlier than we said."),
    (GUARD, "11-19 07:30", "The town's day is fixed now; the owner knows."),
    (
        GLASS,
        "11-25 11:10",
        "Ore Street makes the shoe by the middle of December; glass after that.",
    ),
    (WELL, "11-26 12:10", "The town has seen the wire; zinc is promised for the 11th."),
)
# when the shop said it, the day it named for the stand-offs, why
SHOP = (
    ("11-19 13:40", "12-05 12:00", "Ore Street's galvanizer has its kettle down for a week."),
    ("11-24 11:10", "12-01 12:00", "The galvanizer took them in between; they come as first said."),
)


def events() -> list[Event]:
    """All of it, in no order."""
    return [*_promised(), *_causes(), *_shop(), _split(), _cut_again()]


def _at(at: str, who: str, *commands: Command) -> Event:
    return Event(moment(at), lambda player: player.give(who, *commands))


def _promised() -> Iterator[Event]:
    for detail in DETAILS:
        yield _at("11-04 15:10", SUPER, AgreeDates(detail_id=detail.id, reason="First round"))
    for detail, at, reason in AGAIN:
        yield _at(at, SUPER, AgreeDates(detail_id=detail.id, reason=reason))


def _cause(detail: Detail, at: str, text: str) -> GiveCause:
    day = moment(f"{at[:5]} 00:00").date()
    return GiveCause(id=new_id(), detail_id=detail.id, day=day, cause=text)


def _causes() -> Iterator[Event]:
    for detail, day, at, text in CAUSES:
        yield _at(at, SUPER, _cause(detail, day, text))


def _shop() -> Iterator[Event]:
    """The stand-offs are promised for another day, and why is kept with it."""
    for at, arrives, text in SHOP:

        def put_off(player: Player, at: str = at, arrives: str = arrives, text: str = text) -> None:
            made = player.activity(RAIL, "stand-offs-made")
            player.give(
                SUPER,
                PutOff(activity_id=made.id, until=moment(arrives)),
                _cause(RAIL, at, text),
            )

        yield Event(moment(at), put_off)


def _split() -> Event:
    """The crew says what remains of the skin, and why."""

    def say(player: Player) -> None:
        skin = player.activity(GUARD, "skin-on")
        split = "One sheet split at the roll; we bend another."
        player.give(
            skin.crew_id or SUPER, SetRemaining(activity_id=skin.id, remaining=300, cause=split)
        )

    return Event(moment("12-01 12:40"), say)


def _cut_again() -> Event:
    """Thimble says in the morning that it needs tomorrow too."""

    def say(player: Player) -> None:
        treads = player.activity(FLIGHT, "sub-treads-on")
        player.give(
            treads.crew_id or SUPER,
            SetRemaining(
                activity_id=treads.id,
                remaining=600,
                cause="Two risers did not close at the skirt; they are cut again tomorrow.",
            ),
        )

    return Event(moment("12-03 09:40"), say)
