"""What stands around the chains: details added, crews asked and coming."""

from collections.abc import Iterator
from datetime import timedelta

from seed_demo.house import ROLES, SUPER, TRADES, WAYS
from seed_demo.month import DETAILS, FLIGHT, GUARD, RAIL, WELL, Detail, pattern
from seed_demo.player import Event, Player, moment
from server.core.changes import Command
from server.core.changes.bookings import AnswerVisit, AskVisit, EndVisit
from server.core.changes.plan import AddDetailFromPattern

__all__ = ["events"]


def events() -> list[Event]:
    """All of it, in no order."""
    return [*_details(), *_visits()]


def _at(at: str, who: str, *commands: Command) -> Event:
    return Event(moment(at), lambda player: player.give(who, *commands))


def _details() -> Iterator[Event]:
    for detail in DETAILS:
        plan = pattern(detail.pattern)
        yield _at(
            detail.added,
            SUPER,
            AddDetailFromPattern(
                id=detail.id,
                name=detail.name,
                sheet=detail.sheet,
                content=plan,
                place_id=detail.place,
                crews={trade: TRADES[trade] for trade in plan.trades},
                people={role: ROLES[role] for role in plan.roles},
                ways={way: WAYS[way] for way in plan.ways},
            ),
        )


# detail, tasks (keys or ids), crew, asked, from, to, answered (empty: not yet), another day
VISITS: tuple[tuple[Detail, tuple[str, ...], str, str, str, str, str, str], ...] = (
    (FLIGHT, ("old-stair-out",), "thimble", "11-03 14:30", "11-05 07:00", "11-05 12:00",
     "11-03 16:00", ""),
    (FLIGHT, ("wire-in",), "cricket", "11-12 15:00", "11-17 12:30", "11-18 12:00",
     "11-13 07:10", ""),
    (FLIGHT, ("batts-in",), "haymow", "11-20 11:00", "11-24 07:00", "11-24 12:00",
     "11-20 13:15", "11-25 07:00"),
    (FLIGHT, ("batts-in",), "haymow", "11-20 13:40", "11-25 07:00", "11-25 12:00",
     "11-20 14:05", ""),
    (FLIGHT, ("sub-treads-on",), "thimble", "11-25 14:00", "12-02 07:00", "12-04 15:30",
     "11-25 14:30", ""),
    (FLIGHT, ("scaffldout",), "thimble", "11-26 13:30", "12-09 07:00", "12-09 12:00",
     "11-26 14:20", ""),
    (FLIGHT, ("temporary-rails", "rough-stair-open"), "thimble", "12-01 10:50", "12-12 07:00",
     "12-12 15:30", "12-01 12:30", ""),
    (FLIGHT, ("mockedrail",), "hobnail", "12-01 13:20", "12-08 07:00", "12-12 15:30",
     "12-01 15:05", ""),
    (RAIL, ("mock-up",), "orestreet", "11-05 09:00", "11-07 07:00", "11-07 12:00",
     "11-05 10:00", ""),
    (RAIL, ("set-stand-offs",), "orestreet", "11-24 09:00", "12-03 07:00", "12-03 12:00",
     "11-24 11:20", ""),
    (RAIL, ("hang-board", "base-coat"), "ninepail", "12-01 09:00", "12-04 07:00", "12-05 15:30",
     "12-01 12:40", ""),
    (RAIL, ("endpattern",), "hobnail", "12-02 08:40", "12-04 07:00", "12-04 12:00",
     "12-02 11:10", ""),
    (GUARD, ("channelin2",), "cricket", "12-01 11:30", "12-04 07:00", "12-04 11:00",
     "12-01 12:10", ""),
    (GUARD, ("lath-on",), "ninepail", "12-02 14:30", "12-08 07:00", "12-08 15:30", "", ""),
    (WELL, ("datum-ring",), "thimble", "11-26 11:10", "12-01 07:00", "12-01 12:00",
     "11-26 12:40", ""),
    (WELL, ("battens",), "orestreet", "12-01 10:55", "12-04 07:00", "12-05 15:30",
     "12-01 13:40", ""),
)  # fmt: skip


def _visits() -> Iterator[Event]:
    for number, visit in enumerate(VISITS):
        yield from _visit(f"visit{number}", *visit)


def _visit(
    id: str,
    detail: Detail,
    keys: tuple[str, ...],
    crew: str,
    asked: str,
    start: str,
    finish: str,
    answered: str,
    other: str,
) -> Iterator[Event]:
    def ask(player: Player) -> None:
        visit = AskVisit(
            id=id,
            activity_ids=tuple(_id(player, detail, key) for key in keys),
            start=moment(start),
            finish=moment(finish),
        )
        player.give(SUPER, visit)

    yield Event(moment(asked), ask)
    if answered:
        day = moment(other) if other else None
        reason = "All hands at another house that day" if other else ""
        answer = AnswerVisit(booking_id=id, coming=not other, other_day=day, reason=reason)
        yield _at(answered, crew, answer)
    if other:
        later = moment(answered) + timedelta(minutes=20)
        end = EndVisit(booking_id=id, reason="Asked for the day they can come")
        yield Event(later, lambda player: player.give(SUPER, end))


def _id(player: Player, detail: Detail, key: str) -> str:
    """The id of an activity by its key in the pattern; one that was added is called by its id."""
    return key if key in player.now.activities else player.activity(detail, key).id
