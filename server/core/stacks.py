"""Stacks of tolerances that are kept with a detail, with what released checks have measured."""

from collections.abc import Iterator
from fractions import Fraction

from server.core.figures.stack import Part, Stack
from server.core.figures.stack_at_parts import NO_CHECK, AtPart, Source, at_each
from server.core.measure.units import LENGTHS, converted
from server.core.states import live_attempts
from server.core.world import Ask, HoldPoint, KeptFigure, Snapshot, StackPart


def lengths_asked(snapshot: Snapshot, detail_id: str) -> Iterator[tuple[HoldPoint, Ask]]:
    """What the checks of a detail ask for that says how long a part is: each label once."""
    for activity in snapshot.chain_of(detail_id):
        hold = snapshot.hold_of.get(activity.id)
        asks = snapshot.asks_of.get(hold.id, ()) if hold is not None else ()
        for ask in {ask.label: ask for ask in reversed(asks) if says_length(ask)}.values():
            assert hold is not None
            yield hold, ask


def says_length(ask: Ask) -> bool:
    """Whether a value says how long something is, or by how much, over or under, it is off.

    What is asked to be at most so much says how bad the worst is, and not which way.
    """
    at_most = ask.nominal is None and not ask.low and ask.high is not None
    return ask.unit in LENGTHS and not at_most


def says_off(ask: Ask) -> bool:
    """Whether a value says how far something is off: it should be 0, over and under alike."""
    if ask.nominal is not None:
        return ask.nominal == 0
    return ask.low is not None and ask.high is not None and ask.low < 0 < ask.high


def source_of(snapshot: Snapshot, hold_id: str | None, label: str) -> Source:
    """What the released attempts of a check have measured under a label, in inches."""
    hold = snapshot.holds.get(hold_id or "")
    if hold is None:
        return NO_CHECK
    asks = [
        ask for ask in snapshot.asks_of.get(hold.id, ()) if ask.label == label and says_length(ask)
    ]
    measured = _released(snapshot, hold)
    found = {ask.part: _inches(ask, measured.get(ask.id)) for ask in asks}
    return Source(found, hold.part_name, any(says_off(ask) for ask in asks))


def stack_of(snapshot: Snapshot, kept: KeptFigure) -> tuple[AtPart, ...]:
    """A kept stack as it stands, at each part of the checks that measure it; empty if it is none.

    Raises `BadFigure` where the checks have come to count parts of different kinds.
    """
    rows = snapshot.stack_parts_of.get(kept.id, ())
    if not rows:
        return ()
    stack = Stack(
        parts=tuple(_part(row) for row in rows),
        least=None if kept.least is None else float(kept.least),
        most=None if kept.most is None else float(kept.most),
    )
    return at_each(stack, [source_of(snapshot, row.hold_id, row.label) for row in rows])


def _part(row: StackPart) -> Part:
    return Part(
        name=row.name,
        nominal=float(row.nominal),
        plus=float(row.plus),
        minus=float(row.minus),
        sensitivity=float(row.counts),
        measured=None if row.measured is None else float(row.measured),
    )


def _released(snapshot: Snapshot, hold: HoldPoint) -> dict[str, Fraction]:
    """Ask id -> its value in the last release that did not leave its part out."""
    values: dict[str, Fraction] = {}
    for attempt in live_attempts(snapshot, hold):
        if attempt.state != "released":
            continue
        for one in snapshot.measurements_of.get(attempt.id, ()):
            ask = snapshot.asks.get(one.ask_id)
            if ask is not None and ask.part not in attempt.left_out:
                values[ask.id] = one.value
    return values


def _inches(ask: Ask, value: Fraction | None) -> float | None:
    inches = None if value is None else converted(value, ask.unit, "in")
    return None if inches is None else float(inches)
