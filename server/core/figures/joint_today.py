"""Whether finish wood is fitted today: the air of the room and the meter, held against limits."""

from dataclasses import dataclass
from typing import Literal

from server.core.figures.base import Judged
from server.core.figures.joint import Joint
from server.core.figures.moisture import equilibrium
from server.core.wanted_air import (
    WIDE_WOOD,
    WOOD_AIR,
    WOOD_APART,
    WOOD_APART_NARROW,
    WOOD_HUMIDITY,
)

Answer = Literal["go", "wait", "read"]
"""Nothing speaks against it; something does; nobody has read what is needed to say."""
NEEDED = ("room_air", "room_humidity", "wood_room")
"""Without these nothing can be said."""
NWFA = "NWFA guidelines"


@dataclass(frozen=True, kw_only=True)
class Today:
    """The answer, what it rests on, and the moisture that the room's air brings wood to, in %."""

    answer: Answer
    judged: tuple[Judged, ...]
    settles_at: float | None

    @property
    def against(self) -> tuple[Judged, ...]:
        """What speaks against fitting it today."""
        return tuple(one for one in self.judged if not one.within)


def today(found: Joint) -> Today:
    """Whether the piece may be fitted today.

    The room is as finish wood wants it, the wood is near what the room brings it to and what
    carries it reads, and there is a width at which the joint stays right all year.
    """
    asked = found.asked
    settles = None
    judged: list[Judged] = []
    if asked.room is not None:
        settles = equilibrium(asked.room.fahrenheit, asked.room.humidity)
        for what, value, unit, band in (
            ("room_air", asked.room.fahrenheit, "°F", WOOD_AIR),
            ("room_humidity", asked.room.humidity, "%", WOOD_HUMIDITY),
        ):
            low, high = float(band.low or 0), float(band.high or 0)
            judged.append(_held(what, value, unit, low, high))
    if asked.wood is not None:
        wide = asked.width_in >= WIDE_WOOD
        apart = float(WOOD_APART if wide else WOOD_APART_NARROW)
        if settles is not None:
            judged.append(_held("wood_room", abs(found.moisture - settles), "%", None, apart))
        if asked.carrier is not None:
            judged.append(_held("wood_carrier", abs(asked.wood - asked.carrier), "%", None, apart))
    if not found.possible or asked.fitted_in is not None:
        judged += [one for one in found.judged if one.unit == "in" and not one.within]
    if any(not one.within for one in judged):
        answer: Answer = "wait"
    else:
        read = {one.what for one in judged}
        answer = "go" if read.issuperset(NEEDED) else "read"
    return Today(answer=answer, judged=tuple(judged), settles_at=settles)


def _held(what: str, value: float, unit: str, least: float | None, most: float | None) -> Judged:
    return Judged(what=what, value=value, unit=unit, least=least, most=most, source=NWFA, tag="S")
