"""What is kept about the site itself: drawings, temporary works and their daily looks."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from seed_demo.house import NOW, SUPER
from seed_demo.player import Event, Player
from server.core.changes.actuals import (
    AddSheet,
    AddTemporary,
    LookAtTemporary,
    TakeOutTemporary,
)
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
        datetime(2025, 11, 13, 8, 0),
        AddSheet(
            id="sheetmain3",
            detail_id="mainflight",
            number="A-6",
            revision="2",
            title="Main flight; treads 1/8 in off the plaster all along",
            dated=date(2025, 11, 12),
            replaces_id="sheetmain2",
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
    (
        datetime(2025, 11, 11, 8, 50),
        AddSheet(
            id="sheetrail3",
            detail_id="gardenrail",
            number="A-8",
            revision="2",
            title="Garden stair rail; seventh stand-off at the lower return",
            dated=date(2025, 11, 10),
            replaces_id="sheetrail2",
        ),
    ),
    (
        datetime(2025, 11, 5, 10, 30),
        AddSheet(
            id="sheetglasa",
            detail_id="landinglas",
            number="A-9",
            revision="1",
            title="Landing glass, shoe full size",
            dated=date(2025, 11, 4),
        ),
    ),
    (
        datetime(2025, 11, 24, 10, 40),
        AddSheet(
            id="sheetglasb",
            detail_id="landinglas",
            number="A-9",
            revision="2",
            title="Landing glass; shoe 1/8 in deeper in its recess",
            dated=date(2025, 11, 21),
            replaces_id="sheetglasa",
        ),
    ),
    (
        datetime(2025, 11, 5, 9, 50),
        AddSheet(
            id="sheetwella",
            detail_id="lightwell2",
            number="A-10",
            revision="1",
            title="Light well, faces full size",
            dated=date(2025, 11, 4),
        ),
    ),
    (
        datetime(2025, 11, 18, 8, 50),
        AddSheet(
            id="sheetwellb",
            detail_id="lightwell2",
            number="A-10",
            revision="2",
            title="Light well; course lines moved 1/4 in up",
            dated=date(2025, 11, 17),
            replaces_id="sheetwella",
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
            risers=15,
        ),
    ),
    (
        datetime(2025, 11, 4, 11, 15),
        AddTemporary(
            id="temprails2",
            kind="rail",
            name="Rails of the scaffold stair",
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
    (
        datetime(2025, 11, 12, 13, 0),
        AddTemporary(
            id="tempshores",
            kind="shore",
            name="Shores under the stringers",
            detail_id="mainflight",
            crew_id="thimble",
        ),
    ),
    (
        datetime(2025, 11, 13, 13, 40),
        AddTemporary(
            id="temptower2",
            kind="scaffold",
            name="Tower in the well",
            detail_id="lightwell2",
            crew_id="thimble",
        ),
    ),
    (
        datetime(2025, 11, 20, 10, 40),
        AddTemporary(
            id="tempglass2",
            kind="guard",
            name="Temporary guard where the glass goes",
            detail_id="landinglas",
            crew_id="thimble",
        ),
    ),
    (
        datetime(2025, 11, 17, 15, 20),
        AddTemporary(
            id="tempheater",
            kind="heat",
            name="Electric heater in the garden stair",
            place_id="garden",
            daily=False,
        ),
    ),
)
TAKEN_OUT = {"tempshores": datetime(2025, 11, 21, 11, 0)}
NOT_IN_ORDER = {
    (
        "tempscaff2",
        date(2025, 11, 18),
    ): "Ice on the treads; salted and swept before anybody went up",
    (
        "temptower2",
        date(2025, 11, 21),
    ): "A toe board was off on the flight side; Thimble put it back",
}
HOLIDAYS = (date(2025, 11, 27), date(2025, 11, 28))


def events() -> list[Event]:
    """All of it, in no order."""
    drawings = [_at(when, sheet) for when, sheet in DRAWINGS]
    put_in = [_at(when, work) for when, work in TEMPORARY]
    looks = [look for when, work in TEMPORARY if work.daily for look in _looks(when, work.id)]
    outs = [
        _at(when, TakeOutTemporary(temporary_id=id, when=when)) for id, when in TAKEN_OUT.items()
    ]
    return [*drawings, *put_in, *looks, *outs]


def _at(when: datetime, command: Command) -> Event:
    def give(player: Player) -> None:
        player.give(SUPER, command)

    return Event(when, give)


def _looks(put_in: datetime, id: str) -> Iterator[Event]:
    """The look of each working morning since it was put in."""
    day = put_in.date() + timedelta(days=1)
    last = TAKEN_OUT.get(id, NOW).date()
    while day <= last:
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
