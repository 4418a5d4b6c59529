"""How long wet work waits: what dries by the air that it gives its water to, what cures by itself.

The meter decides, this only plans. Lime and cement are never hurried by hot dry air, which spoils
them: they have a least time, a least temperature and a time to be kept damp.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from server.core.figures.air import Air, check_air, drying_power
from server.core.figures.base import BadFigure, Judged
from server.core.figures.drying_bases import Base, Stage, base_of
from server.core.wanted_air import wanted_by

LONGEST = 365
"""Days. What takes longer does not dry in that air to anybody on site."""
MOST_DAYS = 120.0
THICKEST_IN = 6.0
UNMETERED = (100.0, 5.0)
"""% of the water that has to go, at the start and where the plan ends, if no meter is given."""
MM = 25.4
SOURCES = {
    "gypsum": ("UFGS, gypsum and veneer plaster", "R"),
    "compound": ("GA-216", "M"),
}
"""Where the air that a stuff wants comes from; all others are common practice."""


@dataclass(frozen=True, kw_only=True)
class Read:
    """What a meter read, so many days after the last water went on."""

    day: float
    value: float


@dataclass(frozen=True, kw_only=True)
class DryingAsked:
    """What a wait is planned from.

    `thick_in` is what is wet and has to dry, in inches; `days` somebody's own number instead of the
    base's (for the same thickness). `wet` and `dry` are what the meter reads at the start and what
    the check asks for; `readings` what came in, in any order.
    """

    stuff: str
    stage: Stage
    air: Air
    thick_in: float
    days: float | None = None
    wet: float | None = None
    dry: float | None = None
    readings: tuple[Read, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Drying:
    """A wait planned, with every value in between; times in days from the last water.

    `power` is how well the air dries against 70 °F and 50 %, None for what cures. `days`, `low` and
    `high` are None where the air takes up so little that it does not dry. `from_wet` and `to_dry`
    are the moisture at the start and where the plan ends. `pace` is when the meter gets there if
    it goes on falling as it did; None where it does not fall, or was read once.
    """

    asked: DryingAsked
    base: Base
    power: float | None
    good_days: float
    low: float | None
    days: float | None
    high: float | None
    from_wet: float
    to_dry: float
    readings: tuple[Read, ...]
    pace: float | None
    judged: tuple[Judged, ...]

    @property
    def own(self) -> bool:
        """Whether the days are somebody's own and not the base's."""
        return self.asked.days is not None

    @property
    def is_dry(self) -> bool | None:
        """Whether the newest reading is at or under what is asked for; None without one."""
        if not self.readings or self.asked.dry is None:
            return None
        return self.readings[-1].value <= self.asked.dry

    def moisture(self, day: float, over: float | None = None) -> float | None:
        """The moisture planned for a day, if the wait takes `over` days (as planned, if not given).

        Each day takes the same share of what is left, as drying by diffusion does: a rough curve,
        to see by which side of it the readings lie. None where it does not dry, or cures.
        """
        whole = self.days if over is None else over
        if self.base.how == "cures" or not whole:
            return None
        return float(self.from_wet * (self.to_dry / self.from_wet) ** (day / whole))

    def by_day(self) -> tuple[float, ...]:
        """The moisture planned for each day, from the first to the end of the longest plan."""
        last = int(self.high or 0) + 1
        found = (self.moisture(day) for day in range(last + 1))
        return tuple(one for one in found if one is not None)


def drying(asked: DryingAsked) -> Drying:
    """The wait planned. Raises `BadFigure` with the field that no plan comes from."""
    base = _checked(asked)
    good = (base.days if asked.days is None else asked.days) * _times(asked, base)
    low, high = good * base.low / base.days, good * base.high / base.days
    power = drying_power(asked.air) if base.how == "dries" else None
    scaled: list[float | None] = [low, good, high]
    if power is not None:
        scaled = [days / power if days <= power * LONGEST else None for days in (low, good, high)]
        if scaled[1] is None or scaled[2] is None:
            scaled = [None, None, None]
    readings = tuple(sorted(asked.readings, key=lambda one: one.day))
    wet, dry = (asked.wet, asked.dry) if asked.wet and asked.dry else UNMETERED
    return Drying(
        asked=asked,
        base=base,
        power=power,
        good_days=good,
        low=scaled[0],
        days=scaled[1],
        high=scaled[2],
        from_wet=wet,
        to_dry=dry,
        readings=readings,
        pace=_pace(readings, asked.dry),
        judged=tuple(_air(asked)),
    )


def _times(asked: DryingAsked, base: Base) -> float:
    """How many times the thickness that the base is for."""
    return 1.0 if base.per_mm is None else asked.thick_in * MM / base.per_mm


def _pace(readings: Sequence[Read], dry: float | None) -> float | None:
    """The day on which the meter gets to `dry` if each day takes the share that days took so far.

    From the first reading to the last; the day of the last where that is dry already.
    """
    if dry is None or len(readings) < 2:
        return None
    first, last = readings[0], readings[-1]
    if last.value <= dry:
        return last.day
    if last.value >= first.value or last.day <= first.day:
        return None
    fallen = log(first.value / last.value) / (last.day - first.day)
    return last.day + log(last.value / dry) / fallen


def _air(asked: DryingAsked) -> list[Judged]:
    wanted = wanted_by(asked.stuff)
    source, tag = SOURCES.get(asked.stuff, ("", "P"))
    found = []
    for what, value, unit, band in (
        ("air", asked.air.fahrenheit, "°F", wanted.air),
        ("humidity", asked.air.humidity, "%", wanted.humidity),
    ):
        if band is None:
            continue
        least, most = (None if one is None else float(one) for one in (band.low, band.high))
        found.append(Judged(
            what=what, value=value, unit=unit, least=least, most=most, source=source, tag=tag
        ))  # fmt: skip
    return found


def _checked(asked: DryingAsked) -> Base:
    base = base_of(asked.stuff, asked.stage)
    if base is None:
        raise BadFigure("figures.bad.stuff", field="stuff")
    check_air(asked.air, "air", "humidity")
    if base.per_mm is not None and not 0 < asked.thick_in <= THICKEST_IN:
        raise BadFigure("figures.bad.length", field="thick", above=0.0, most=THICKEST_IN)
    if asked.days is not None and not 0 < asked.days <= MOST_DAYS:
        raise BadFigure("figures.bad.days", field="days", most=MOST_DAYS)
    for field, value in (("wet", asked.wet), ("dry", asked.dry)):
        if value is not None and not 0 < value <= 100:
            raise BadFigure("figures.bad.percent", field=field)
    if asked.wet is not None and asked.dry is not None and asked.dry >= asked.wet:
        raise BadFigure("figures.bad.dry_over_wet", field="dry")
    for one in asked.readings:
        if not (0 <= one.day <= LONGEST and 0 < one.value <= 100):
            raise BadFigure("figures.bad.readings", field="readings")
    return base
