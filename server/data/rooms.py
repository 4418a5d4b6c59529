"""The air of rooms through the year, to begin from where nobody has read it."""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from server.core.figures.air import Air

FILE = Path(__file__).parent / "rooms.toml"


@dataclass(frozen=True, kw_only=True)
class Rooms:
    """The rooms of a region: their air month by month, and the average of wood in them, in %."""

    id: str
    name: str
    months: tuple[Air, ...]
    mean: float
    source: str
    tag: str


@cache
def all_rooms() -> tuple[Rooms, ...]:
    """Every region that ships with the program, in the order of the file."""
    read = tomllib.loads(FILE.read_text("utf-8"))
    return tuple(
        Rooms(
            id=one["id"],
            name=one["name"],
            months=tuple(
                Air(float(f), float(h))
                for f, h in zip(one["fahrenheit"], one["humidity"], strict=True)
            ),
            mean=float(one["mean"]),
            source=read["source"],
            tag=read["tag"],
        )
        for one in read["room"]
    )


def rooms(id: str) -> Rooms | None:
    """The region with this id, or None."""
    return next((one for one in all_rooms() if one.id == id), None)
