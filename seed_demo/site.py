"""What is kept about the site itself: drawings, temporary works looked at daily, readings."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from seed_demo.house import NOW, SUPER
from seed_demo.player import Event, Player
from server.core.changes.actuals import AddReading, AddSheet, AddTemporary, LookAtTemporary
from server.core.changes.base import Command
from server.store.ids import new_id

DRAWINGS: tuple[tuple[datetime, AddSheet], ...] = (
    (
        datetime(2025, 11, 3, 8, 30),
        AddSheet(
            id="sheetmain2",
            detail_id="mainflight",
            number="A-6",
            revision="1",
            title="Main flight, section and plan",
            dated=date(2025, 10, 27),
        ),
    ),
    (
        datetime(2025, 11, 4, 14, 40),
        AddSheet(
            id="sheetgarda",
            detail_id="rolledgard",
            number="A-7",
            revision="1",
            title="Rolled guard, full size",
            dated=date(2025, 11, 3),
        ),
    ),
    (
        datetime(2025, 11, 12, 9, 50),
        AddSheet(
            id="sheetgardb",
            detail_id="rolledgard",
            number="A-7",
            revision="2",
            title="Rolled guard, full size; light slot moved 1/2 in to the room",
            dated=date(2025, 11, 11),
            replaces_id="sheetgarda",
        ),
    ),
    (
        datetime(2025, 11, 4, 10, 30),
        AddSheet(
            id="sheetrail2",
            detail_id="gardenrail",
            number="A-8",
            revision="1",
            title="Garden stair rail, stand-offs",
            dated=date(2025, 11, 3),
        ),
    ),
)
TEMPORARY: tuple[tuple[datetime, AddTemporary], ...] = (
    (
        datetime(2025, 11, 4, 11, 10),
        AddTemporary(
            id="tempscaff2",
            kind="stair",
            name="Scaffold stair outside",
            detail_id="mainflight",
            crew_id="thimble",
        ),
    ),
    (
        datetime(2025, 11, 6, 8, 40),
        AddTemporary(
            id="tempguard2",
            kind="guard",
            name="Temporary guard at the landing",
            detail_id="rolledgard",
            place_id="landing",
            crew_id="thimble",
        ),
    ),
)
NOT_IN_ORDER = {
    ("tempscaff2", date(2025, 11, 18)): "Ice on the treads; salted and swept before anybody went up"
}
READINGS = (
    (datetime(2025, 11, 10, 7, 40), "air", "52", "landing", "by the window"),
    (datetime(2025, 11, 17, 7, 40), "air", "55", "landing", "by the window"),
    (datetime(2025, 11, 24, 7, 40), "humidity", "48", "flight", "under the flight"),
    (datetime(2025, 11, 24, 7, 45), "wood", "13", "flight", "second stringer"),
    (datetime(2025, 12, 1, 7, 40), "air", "56", "garden", "bottom of the stair"),
    (datetime(2025, 12, 3, 7, 40), "wood", "11.5", "flight", "second stringer"),
)
HOLIDAYS = (date(2025, 11, 27), date(2025, 11, 28))


def events() -> list[Event]:
    """All of it, in no order."""
    drawings = [_at(when, sheet) for when, sheet in DRAWINGS]
    readings = [
        _at(when, AddReading(id=new_id(), place_id=place, what=what, typed=typed, where=where))
        for when, what, typed, place, where in READINGS
    ]
    put_in = [_at(when, work) for when, work in TEMPORARY]
    looks = [look for when, work in TEMPORARY for look in _looks(when, work.id)]
    return [*drawings, *readings, *put_in, *looks]


def _at(when: datetime, command: Command) -> Event:
    def give(player: Player) -> None:
        player.give(SUPER, command)

    return Event(when, give)


def _looks(put_in: datetime, id: str) -> Iterator[Event]:
    """The look of each working morning since it was put in."""
    day = put_in.date() + timedelta(days=1)
    while day <= NOW.date():
        if day.weekday() < 5 and day not in HOLIDAYS:
            note = NOT_IN_ORDER.get((id, day), "")
            yield _at(
                datetime(day.year, day.month, day.day, 6, 50),
                LookAtTemporary(id=new_id(), temporary_id=id, in_order=not note, note=note),
            )
            if note:
                yield _at(
                    datetime(day.year, day.month, day.day, 7, 20),
                    LookAtTemporary(id=new_id(), temporary_id=id),
                )
        day += timedelta(days=1)
