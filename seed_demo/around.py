"""What stands around the chains: details added, dates agreed, visits, drawings, temporary works."""

from collections.abc import Iterator

from seed_demo.house import ROLES, TRADES, WAYS
from seed_demo.month import DETAILS, GUARD, RAIL, Detail, pattern
from seed_demo.player import Event, Player, moment
from server.core.changes import Command
from server.core.changes.bookings import AgreeDates, AnswerVisit, AskVisit
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    AddDetailFromPattern,
    EndActivity,
)

__all__ = ["events"]
SUPER = "super"


def events() -> list[Event]:
    """All of it, in no order."""
    return [*_details(), *_changes(), *_visits()]


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
        yield _at("11-04 15:10", SUPER, AgreeDates(detail_id=detail.id, reason="First round"))


def _changes() -> Iterator[Event]:
    def seen_with_the_flight(player: Player) -> None:
        rough = player.activity(RAIL, "rough")
        player.give(
            SUPER,
            EndActivity(
                activity_id=rough.id, reason="Town looked at this wall with the main flight"
            ),
        )

    def channel(player: Player) -> None:
        skin, lath = (player.activity(GUARD, key) for key in ("skin-on", "lath-on"))
        facts = ActivityFacts(
            name="Light channel and its wire in the slot",
            work=180,
            crew_id="cricket",
            place_id=GUARD.place,
        )
        player.give(
            SUPER,
            AddActivity(
                id="channelin2",
                detail_id=GUARD.id,
                facts=facts,
                behind_id=skin.id,
                after=(skin.id,),
            ),
            AddDependency(id="channeldep", before_id="channelin2", after_id=lath.id),
        )

    yield Event(moment("11-21 09:40"), seen_with_the_flight)
    yield Event(moment("11-24 14:00"), channel)


def _visits() -> Iterator[Event]:
    yield from _visit(
        RAIL,
        "set-stand-offs",
        "orestreet",
        "11-24 09:00",
        "12-03 07:00",
        "12-03 15:30",
        "11-24 11:20",
    )
    yield from _visit(
        RAIL, "hang-board", "ninepail", "12-01 09:00", "12-04 07:00", "12-04 12:00", "12-01 12:40"
    )
    yield from _visit(GUARD, "lath-on", "ninepail", "12-02 14:30", "12-08 07:00", "12-08 15:30", "")


def _visit(
    detail: Detail, key: str, crew: str, asked: str, start: str, finish: str, coming: str
) -> Iterator[Event]:
    id = f"visit{key}"[:10].replace("-", "x") + crew[:2]

    def ask(player: Player) -> None:
        activity = player.activity(detail, key)
        player.give(
            SUPER,
            AskVisit(
                id=id, activity_ids=(activity.id,), start=moment(start), finish=moment(finish)
            ),
        )

    yield Event(moment(asked), ask)
    if coming:
        yield _at(coming, crew, AnswerVisit(booking_id=id, coming=True))
