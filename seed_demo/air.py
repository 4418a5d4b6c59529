"""Readings of air, humidity and wood, place by place, over the last two weeks and a little more."""

from collections.abc import Iterator

from seed_demo.house import SUPER
from seed_demo.player import Event, moment
from server.core.changes.actuals import AddReading
from server.store.ids import new_id

__all__ = ["events"]

DAYS = ("11-19", "11-20", "11-21", "11-24", "11-25", "11-26", "12-01", "12-02", "12-03")
# place, where, then of each day above: air in F and humidity in %
AIR: tuple[tuple[str, str, str, str], ...] = (
    ("garden", "bottom of the stair", "55 55 56 56 57 57 54 56 57", "61 60 60 58 57 57 59 58 56"),
    ("flight", "under the flight", "54 55 56 56 56 57 53 56 57", "58 57 57 55 55 54 56 54 53"),
    ("landing", "by the window", "56 57 57 58 58 58 55 57 58", "57 56 55 54 54 53 54 53 52"),
    ("welltop", "on the tower", "58 59 59 60 60 60 56 59 60", "55 54 54 53 52 52 53 52 51"),
)
# place, where, then (day, % of wood)
WOOD: tuple[tuple[str, str, tuple[tuple[str, str], ...]], ...] = (
    (
        "flight",
        "second stringer",
        (("11-24", "13"), ("11-26", "12 1/2"), ("12-01", "12"), ("12-03", "11.5")),
    ),
    ("landing", "fin by the newel", (("11-19", "14"), ("11-26", "13"), ("12-03", "12 1/2"))),
    ("garden", "rail blocking", (("11-21", "13 1/2"), ("12-03", "12 1/2"))),
    ("welltop", "north batten line", (("11-14", "14 1/2"), ("12-01", "12"))),
)


def events() -> Iterator[Event]:
    """All of it, in no order: each morning the round begins at the bottom."""
    for number, (place, where, air, humidity) in enumerate(AIR):
        for day, degrees, percent in zip(DAYS, air.split(), humidity.split(), strict=True):
            at = f"{day} 07:{36 + 3 * number}"
            yield _read(at, place, where, ("air", degrees), ("humidity", percent))
    for place, where, read in WOOD:
        for day, percent in read:
            yield _read(f"{day} 07:52", place, where, ("wood", percent))


def _read(at: str, place: str, where: str, *values: tuple[str, str]) -> Event:
    commands = [
        AddReading(id=new_id(), place_id=place, what=what, typed=typed, where=where)
        for what, typed in values
    ]
    return Event(moment(at), lambda player: player.give(SUPER, *commands))
