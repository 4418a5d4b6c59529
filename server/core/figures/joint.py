"""The joint beside a piece of wood through the year, and how wide it is on the day it is fitted.

Wood that takes up water grows toward the joint and narrows it. Each month's air brings the wood to
a moisture; the wood is taken to get there, which thick or finished wood does not quite: the true
joint moves less.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from server.core.figures.air import Air, check_air
from server.core.figures.base import BadFigure, Judged
from server.core.figures.moisture import (
    CALIBRATED,
    Grain,
    Species,
    equilibrium,
    in_range,
    metered,
    movement,
)

Held = Literal["far", "middle"]
"""Where the piece is held so that the rest of it moves: at its far edge, or along its middle."""
Taken = Literal["meter", "room", "year"]
"""What the wood's moisture is taken from: the meter, the room's air now, the mean of the year."""

MONTHS = 12
WIDEST = 240.0
WIDEST_JOINT = 24.0
READS = (2.0, 60.0)
"""% between which a wood meter is believed at all."""
OF_COEFFICIENT = (0.0001, 0.01)
"""What a coefficient of movement may be; those of the Wood Handbook lie from 0.0011 to 0.0046."""


@dataclass(frozen=True, kw_only=True)
class Insert:
    """A strip in the joint: how thick it is free, and how far, in %, it may be pressed together."""

    thick_in: float
    least: float
    most: float


@dataclass(frozen=True, kw_only=True)
class JointAsked:
    """What a joint is worked out from. Lengths in inches, moistures in %.

    `width_in` is the wood across the joint; `least_in` and `most_in` what the joint may be at any
    time. `months` is the air of each month. `room` is the air today, `wood` what the meter reads in
    the piece and `wood_fahrenheit` how warm it is (as the room, if not given), `carrier` the meter
    in what carries it. `fitted_in` is the width it is fitted at, if somebody wants to try one.
    """

    width_in: float
    species: Species
    grain: Grain
    least_in: float
    most_in: float
    months: tuple[Air, ...]
    held: Held = "far"
    room: Air | None = None
    wood: float | None = None
    wood_fahrenheit: float | None = None
    carrier: float | None = None
    fitted_in: float | None = None
    insert: Insert | None = None


@dataclass(frozen=True, kw_only=True)
class Month:
    """The joint in one month: its air, the wood's moisture, its width, the insert pressed by %."""

    air: Air
    moisture: float
    width_in: float
    pressed: float | None


@dataclass(frozen=True, kw_only=True)
class Joint:
    """The joint through the year, with every value in between.

    `share` of the piece's movement comes at this joint. `season_in` is how far the joint closes
    from the driest month to the dampest. Fitted between `low_in` and `high_in` it stays between its
    least and most all year; where `low_in` is more than `high_in` no width does that. `fit_in` is
    the middle of the two, or the width that was asked about.
    """

    asked: JointAsked
    coefficient: float
    share: float
    moisture: float
    taken: Taken
    corrected: float | None
    low_in: float
    high_in: float
    fit_in: float
    season_in: float
    months: tuple[Month, ...]

    @cached_property
    def driest(self) -> int:
        """The month with the driest wood, from 0; the first of several."""
        return min(range(MONTHS), key=lambda n: self.months[n].moisture)

    @cached_property
    def dampest(self) -> int:
        """The month with the dampest wood, from 0; the first of several."""
        return max(range(MONTHS), key=lambda n: self.months[n].moisture)

    @property
    def widest_in(self) -> float:
        """The widest it gets."""
        return self.months[self.driest].width_in

    @property
    def narrowest_in(self) -> float:
        """The narrowest it gets; below 0 the wood presses against what is beside it."""
        return self.months[self.dampest].width_in

    @property
    def possible(self) -> bool:
        """Whether there is a width at which it stays between its least and most all year."""
        return self.low_in <= self.high_in

    @property
    def widest_piece_in(self) -> float | None:
        """The widest piece that such a joint takes through such a year; None if any does."""
        room = self.asked.most_in - self.asked.least_in
        return self.asked.width_in * room / self.season_in if self.season_in > 0 else None

    @property
    def valid(self) -> bool:
        """Whether all moistures lie where the equation of movement holds."""
        return in_range(self.moisture, *(month.moisture for month in self.months))

    @property
    def judged(self) -> tuple[Judged, ...]:
        """The joint against its own least and most, the insert against what it may be pressed."""
        asked = self.asked
        room = asked.most_in - asked.least_in
        found = [
            _own("season", self.season_in, None, room),
            _own("narrowest", self.narrowest_in, asked.least_in, None),
            _own("widest", self.widest_in, None, asked.most_in),
        ]
        if asked.insert is not None:
            loose, tight = self.months[self.driest].pressed, self.months[self.dampest].pressed
            found.append(_own("loosest", loose or 0.0, asked.insert.least, None, "%"))
            found.append(_own("tightest", tight or 0.0, None, asked.insert.most, "%"))
        return tuple(found)


def joint(asked: JointAsked) -> Joint:
    """The joint through the year. Raises `BadFigure` with the field that no joint comes from."""
    _check(asked)
    share = 0.5 if asked.held == "middle" else 1.0
    coefficient = asked.species.coefficient(asked.grain)
    reached = [equilibrium(air.fahrenheit, air.humidity) for air in asked.months]
    moisture, taken, corrected = _now(asked, reached)

    def closes(to: float) -> float:
        """How much narrower the joint is once the wood has gone from now to a moisture."""
        return share * movement(asked.width_in, coefficient, moisture, to)

    low = max(asked.least_in + closes(max(reached)), 0.0)
    high = asked.most_in + closes(min(reached))
    fit = max((low + high) / 2, 0.0) if asked.fitted_in is None else asked.fitted_in
    widths = [fit - closes(to) for to in reached]
    return Joint(
        asked=asked,
        coefficient=coefficient,
        share=share,
        moisture=moisture,
        taken=taken,
        corrected=corrected,
        low_in=low,
        high_in=high,
        fit_in=fit,
        season_in=closes(max(reached)) - closes(min(reached)),
        months=tuple(
            Month(air=air, moisture=to, width_in=width, pressed=_pressed(asked.insert, width))
            for air, to, width in zip(asked.months, reached, widths, strict=True)
        ),
    )


def _now(asked: JointAsked, reached: Sequence[float]) -> tuple[float, Taken, float | None]:
    """The wood's moisture on the day, where it is taken from, and what was corrected if metered."""
    if asked.wood is not None:
        room = asked.room.fahrenheit if asked.room else CALIBRATED
        warm = room if asked.wood_fahrenheit is None else asked.wood_fahrenheit
        true = max(metered(asked.wood, warm), 0.0)
        return true, "meter", true - asked.wood
    if asked.room is not None:
        return equilibrium(asked.room.fahrenheit, asked.room.humidity), "room", None
    return sum(reached) / len(reached), "year", None


def _pressed(insert: Insert | None, width: float) -> float | None:
    """By how much of its free thickness, in %, an insert is pressed; below 0 it is loose."""
    return None if insert is None else 100 * (insert.thick_in - width) / insert.thick_in


def _own(
    what: str, value: float, least: float | None, most: float | None, unit: str = "in"
) -> Judged:
    return Judged(what=what, value=value, unit=unit, least=least, most=most)


def _check(asked: JointAsked) -> None:
    _between("width", asked.width_in, 0, WIDEST)
    for value in (asked.species.radial, asked.species.tangential):
        if not OF_COEFFICIENT[0] <= value <= OF_COEFFICIENT[1]:
            least, most = OF_COEFFICIENT
            raise BadFigure("figures.bad.coefficient", field="species", least=least, most=most)
    if asked.least_in < 0:
        raise BadFigure("figures.bad.below_zero", field="least")
    _between("most", asked.most_in, 0, WIDEST_JOINT)
    if asked.most_in <= asked.least_in:
        raise BadFigure("figures.bad.most_under_least", field="most")
    if asked.fitted_in is not None and asked.fitted_in < 0:
        raise BadFigure("figures.bad.below_zero", field="fitted")
    if asked.insert is not None:
        _between("insert", asked.insert.thick_in, 0, WIDEST_JOINT)
        if not 0 <= asked.insert.least < asked.insert.most <= 100:
            raise BadFigure("figures.bad.pressed", field="insert_most")
    _check_read(asked)


def _check_read(asked: JointAsked) -> None:
    """What instruments said, and the air of the months."""
    for field, read in (("wood", asked.wood), ("carrier", asked.carrier)):
        if read is not None and not READS[0] <= read <= READS[1]:
            raise BadFigure("figures.bad.meter", field=field, least=READS[0], most=READS[1])
    for number, air in enumerate(asked.months, 1):
        check_air(air, f"air_{number}", f"humidity_{number}")
    if asked.room is not None:
        check_air(asked.room, "air", "humidity")
    if asked.wood_fahrenheit is not None:
        check_air(Air(asked.wood_fahrenheit, 50), "wood_fahrenheit", "humidity")


def _between(field: str, value: float, above: float, most: float) -> None:
    if not above < value <= most:
        raise BadFigure("figures.bad.length", field=field, above=above, most=most)
