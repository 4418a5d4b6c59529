"""What hangs on a figure: the numbers a check asks for, the length of a wait."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from starlette.requests import Request

from server.core.changes.plan import AskFacts
from server.core.figures import standoff_asks
from server.core.figures.drying import drying
from server.core.figures.joint_asks import widths
from server.core.figures.riser_asks import risers_asked
from server.core.figures.stack_asks import part_asked
from server.core.figures.stack_at_parts import at_each, worst_of
from server.core.figures.stairs import flight
from server.core.figures.standoffs import stand_offs
from server.core.measure.units import LENGTHS
from server.core.stacks import says_off
from server.core.world import Ask
from server.pages.figures import drying as drying_page
from server.pages.figures import joint_form, stairs, standoffs
from server.pages.figures.asked import Asked
from server.pages.figures.at_work import AtWork
from server.pages.figures.stack_rows import AskedParts
from server.people.viewer import Viewer

CLOCK_DAY = 24 * 60


@dataclass(frozen=True)
class Asking:
    """A check that is to have its numbers from a figure: how many parts, what it asks for now."""

    hold_id: str
    parts: int
    asks: tuple[Ask, ...]


@dataclass(frozen=True)
class Numbers:
    """What a check asks for, and what it is measured from ("": as before)."""

    asks: tuple[AskFacts, ...]
    datum: str


def _of_stand_offs(asked: Asked, check: Asking) -> Numbers:
    given = standoffs.given_by(asked)
    figure = stand_offs(given, asked.profile())
    asks = standoff_asks.asks(
        figure,
        height=asked.say("standoffs.ask.height"),
        string=asked.say("standoffs.ask.string"),
        unit=asked.units,
    )
    return Numbers(asks, asked.say("standoffs.ask.datum"))


def _of_risers(asked: Asked, check: Asking) -> Numbers:
    figure = flight(stairs.given_by(asked), asked.profile())
    asks = risers_asked(figure, riser=asked.say("stairs.ask.riser"), unit=asked.units)
    return Numbers(asks, asked.say("stairs.ask.datum"))


def _of_joint(asked: Asked, check: Asking) -> Numbers:
    given = joint_form.given_by(asked, None).asked
    labels = tuple(
        asked.say(id) for id in ("joint.ask.front", "joint.ask.middle", "joint.ask.back")
    )
    asks = widths(given.least_in, given.most_in, labels=labels, parts=check.parts, unit=asked.units)
    return Numbers(asks, asked.say("joint.ask.datum"))


def _of_stack(asked: Asked, check: Asking) -> Numbers:
    """What is asked of the parts that the check measures; if of none, of those that none does.

    What else it measures it goes on asking as it does: a stack is not all of a check.
    """
    assert isinstance(asked, AskedParts)
    each = at_each(asked.stack(), [row.source for row in asked.rows])
    own = {row.label: no for no, row in enumerate(asked.rows) if row.hold_id == check.hold_id}
    lengths = [ask for ask in check.asks if ask.unit in LENGTHS]
    if not own:
        free = [no for no, row in enumerate(asked.rows) if not row.hold_id]
        figure = worst_of(each).figure
        parts = (figure.parts[no] for no in free if figure.parts[no].part.measured is None)
        new = {one.part.name: part_asked(one, unit=asked.units) for one in parts}
        others = (AskFacts.of(ask) for ask in lengths if ask.label not in new)
        return Numbers((*new.values(), *others), "")
    figures = {at.no: at.figure for at in each}
    asks = [
        part_asked(
            figures.get(ask.part, each[0].figure).parts[own[ask.label]],
            unit=asked.units, label=ask.label, no=ask.part, off=says_off(ask),
        )
        if ask.label in own
        else AskFacts.of(ask)
        for ask in lengths
    ]  # fmt: skip
    return Numbers(tuple(asks), "")


NUMBERS: Mapping[str, Callable[[Asked, Asking], Numbers]] = {
    "stairs": _of_risers,
    "standoffs": _of_stand_offs,
    "joint": _of_joint,
    "stack": _of_stack,
}
"""By the figure's name: what a check asks for, in the units of the asked."""

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
