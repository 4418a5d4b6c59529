"""What hangs on a figure: the numbers a check asks for, the length of a wait."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from starlette.requests import Request

from server.core.changes.plan import AskFacts
from server.core.figures import standoff_asks
from server.core.figures.drying import drying
from server.core.figures.joint_asks import widths
from server.core.figures.riser_asks import risers_asked
from server.core.figures.stairs import flight
from server.core.figures.standoffs import stand_offs
from server.pages.figures import drying as drying_page
from server.pages.figures import joint_form, stairs, standoffs
from server.pages.figures.asked import Asked
from server.pages.figures.at_work import AtWork
from server.people.viewer import Viewer

CLOCK_DAY = 24 * 60


@dataclass(frozen=True)
class Numbers:
    """What a check asks for, and what it is measured from."""

    asks: tuple[AskFacts, ...]
    datum: str


def _of_stand_offs(asked: Asked, parts: int) -> Numbers:
    given = standoffs.given_by(asked)
    figure = stand_offs(given, asked.profile())
    asks = standoff_asks.asks(
        figure,
        height=asked.say("standoffs.ask.height"),
        string=asked.say("standoffs.ask.string"),
        unit=asked.units,
    )
    return Numbers(asks, asked.say("standoffs.ask.datum"))


def _of_risers(asked: Asked, parts: int) -> Numbers:
    figure = flight(stairs.given_by(asked), asked.profile())
    asks = risers_asked(figure, riser=asked.say("stairs.ask.riser"), unit=asked.units)
    return Numbers(asks, asked.say("stairs.ask.datum"))


def _of_joint(asked: Asked, parts: int) -> Numbers:
    given = joint_form.given_by(asked, None).asked
    labels = tuple(
        asked.say(id) for id in ("joint.ask.front", "joint.ask.middle", "joint.ask.back")
    )
    asks = widths(given.least_in, given.most_in, labels=labels, parts=parts, unit=asked.units)
    return Numbers(asks, asked.say("joint.ask.datum"))


NUMBERS: Mapping[str, Callable[[Asked, int], Numbers]] = {
    "stairs": _of_risers,
    "standoffs": _of_stand_offs,
    "joint": _of_joint,
}
"""By the figure's name: what a check of so many parts asks for, in the units of the asked."""

WAITS = frozenset({"drying"})
"""Figures that a wait gets its length from."""
READ_AGAIN: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "drying": ("coat", ("air", "humidity")),
    "joint": ("place", ("air", "humidity", "wood")),
}
"""Fields that the latest readings stand in for, where the first field names what was read."""


def planned_minutes(request: Request, viewer: Viewer, asked: Asked) -> int | None:
    """How long a wait is by its figure, as it is printed; None where it never dries."""
    given, _ = drying_page.given_by(asked, AtWork(request, viewer))
    asked.check()
    days = drying(given).days
    if days is None:
        return None
    return round(float(drying_page.plain_days(days)) * CLOCK_DAY)
