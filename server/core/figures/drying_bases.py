"""How long wet work is planned to wait, before the air is looked at: per kind, with its source.

A start, to be replaced by what the maker's data sheet says.
"""

from dataclasses import dataclass
from datetime import timedelta
from typing import Literal

from server.core.wanted_air import WANTED

How = Literal["dries", "cures"]
"""By giving its water to the air, which good drying quickens; or by itself, which it spoils."""
Stage = Literal["coat", "last"]
"""The wait before the next coat, or before what follows the last one."""

STAGES: tuple[Stage, ...] = ("coat", "last")
PRACTICE = "common practice"


@dataclass(frozen=True, kw_only=True)
class Base:
    """Days that a wait is planned with, and the least and most it usually is.

    What dries takes so many for each `per_mm` of wet thickness in air of 70 °F and 50 %. `damp` is
    how many days it is kept damp. The tag goes for `days`; least and most are common practice.
    """

    stuff: str
    stage: Stage
    how: How
    days: float
    low: float
    high: float
    per_mm: float | None = None
    damp: float = 0
    source: str = PRACTICE
    tag: str = "P"


def _days(time: timedelta) -> float:
    return time / timedelta(days=1)


_WEEK_PER_5 = "about a week of good drying per 5 mm"
_THREE_COATS = "ASTM C926, three-coat cement plaster"
_BETWEEN, _AFTER = _days(WANTED["cement"].between), _days(WANTED["cement"].after)

BASES: tuple[Base, ...] = (
    Base(stuff="gypsum", stage="coat", how="cures", days=1, low=0.5, high=2),
    Base(
        stuff="gypsum", stage="last", how="dries", days=7, low=5, high=10, per_mm=5,
        source=_WEEK_PER_5, tag="S",
    ),
    Base(stuff="compound", stage="coat", how="dries", days=1, low=0.75, high=2, per_mm=1.6),
    Base(stuff="compound", stage="last", how="dries", days=1, low=0.75, high=2, per_mm=1.6),
    Base(
        stuff="lime", stage="coat", how="cures", days=4, low=3, high=5, damp=3,
        source="hydraulic lime, 3 to 5 days between coats", tag="S",
    ),
    Base(stuff="lime", stage="last", how="cures", days=10, low=7, high=14, damp=3),
    Base(
        stuff="cement", stage="coat", how="cures", days=_BETWEEN, low=_BETWEEN,
        high=2 * _BETWEEN, damp=2, source=_THREE_COATS, tag="M",
    ),
    Base(
        stuff="cement", stage="last", how="cures", days=_AFTER, low=_AFTER, high=2 * _AFTER,
        damp=2, source=_THREE_COATS, tag="M",
    ),
    Base(stuff="adhesive", stage="last", how="cures", days=1, low=1, high=3),
    Base(stuff="grout", stage="last", how="cures", days=1, low=1, high=3),
)  # fmt: skip


def base_of(stuff: str, stage: Stage) -> Base | None:
    """What a stuff is planned with at a stage; at its last where it has one coat only."""
    found = {one.stage: one for one in BASES if one.stuff == stuff}
    return found.get(stage) or found.get("last")
