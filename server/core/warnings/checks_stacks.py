"""The part of "out of tolerance" that is foreseen: a kept stack that is to leave its range."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby

from server.core.changes.held import super_of
from server.core.figures.base import BadFigure
from server.core.figures.lengths import fine
from server.core.figures.stack import PartOfGap
from server.core.figures.stack_at_parts import AtPart, worst_of
from server.core.refusals import Message, Value, message
from server.core.schedule import Schedule
from server.core.stacks import stack_of
from server.core.states import open_parts
from server.core.warnings.base import RULES, Mend, Warning, identity
from server.core.world import Activity, KeptFigure, Snapshot

WAYS = 2
"""So many parts are named of which one could bring a gap back."""


def stacks_out(snapshot: Snapshot, schedule: Schedule, rule: str) -> Iterator[Warning]:
    """The stacks that are to leave their range, as they stand or farther than planned at worst.

    One that is out in the worst case by its drawing alone says so on its own page. Where some part
    that is not measured yet can still be held so that the gap is as wanted, it can be put right.
    """
    for figure_id in snapshot.stack_parts_of:
        kept = snapshot.kept_figures[figure_id]
        detail = snapshot.details.get(kept.detail_id)
        if kept.ended is not None or detail is None or detail.ended is not None:
            continue
        try:
            each = stack_of(snapshot, kept)
        except BadFigure:  # its own page says what is wrong with it
            continue
        out = [at for at in each if at.figure.strays]
        if out:
            yield _about(snapshot, schedule, rule, kept, out)


def _about(
    snapshot: Snapshot, schedule: Schedule, rule: str, kept: KeptFigure, out: Sequence[AtPart]
) -> Warning:
    checks = _checks(snapshot, kept)
    still = [a for a in checks if open_parts(snapshot, snapshot.hold_of[a.id]) != frozenset()]
    person = super_of(snapshot)
    facts = (f"{at.no} {at.figure.worst.low:.4f} {at.figure.worst.high:.4f}" for at in out)
    return Warning(
        rule=rule,
        bad=RULES[rule].bad,
        title=RULES[rule].title,
        sentence=_sentence(snapshot, kept, out, person.name if person else ""),
        subject=(kept.id,),
        identity=identity(rule, kept.id, kept.least, kept.most, *facts),
        at=_first(schedule, still),
        detail_id=kept.detail_id,
        activity_ids=tuple(a.id for a in still or checks),
        person_id=person.id if person else None,
        mends=(Mend(message("warning.open_figure"), goto_figure_id=kept.id),),
    )


def _sentence(snapshot: Snapshot, kept: KeptFigure, out: Sequence[AtPart], whose: str) -> Message:
    worst = worst_of(out)
    figure, unit = worst.figure, kept.units
    values: dict[str, Value] = {
        "figure": kept.name,
        "gap": fine(figure.expected, unit),
        "low": fine(figure.worst.low, unit),
        "high": fine(figure.worst.high, unit),
        "unit": unit,
        "wanted": _wanted(kept),
        "then": _then(figure.bring_back, unit, whose),
    }
    if worst.no is None:
        return message("warning.out_of_tolerance.stack", **values)
    name, numbers = _counted(snapshot, kept), [at.no for at in out if at.no is not None]
    return message(
        "warning.out_of_tolerance.stack_at",
        places=tuple(_places(name, numbers)),
        place=message("warning.out_of_tolerance.place", part=name, first=worst.no),
        **values,
    )


def _places(name: str, numbers: Sequence[int]) -> Iterator[Message]:
    """Parts by their numbers; three or more that follow one another are said together."""
    for _, pairs in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        run = [no for _, no in pairs]
        if len(run) > 2:
            yield message("warning.out_of_tolerance.places", part=name, first=run[0], last=run[-1])
        else:
            for no in run:
                yield message("warning.out_of_tolerance.place", part=name, first=no)


def _then(parts: Sequence[PartOfGap], unit: str, whose: str) -> Message:
    """Which one to hold so that it stays as wanted, the easiest first; who decides, if none can."""
    if not parts:
        return message("warning.out_of_tolerance.lost", whose=whose)
    easiest = sorted(parts, key=lambda one: one.change)[:WAYS]
    return message(
        "warning.out_of_tolerance.hold_to", parts=tuple(_held(one, unit) for one in easiest)
    )


def _held(one: PartOfGap, unit: str) -> Message:
    assert one.hold_to is not None
    ends = {"low": one.hold_to.low, "high": one.hold_to.high}
    known = {name: fine(end, unit) for name, end in ends.items() if end is not None}
    return message(_HELD[tuple(known)], part=one.part.name, unit=unit, **known)


_HELD = {
    ("low", "high"): "warning.out_of_tolerance.hold_between",
    ("low",): "warning.out_of_tolerance.hold_least",
    ("high",): "warning.out_of_tolerance.hold_most",
}


def _wanted(kept: KeptFigure) -> Message:
    ends = {"least": kept.least, "most": kept.most}
    known = {name: fine(float(end), kept.units) for name, end in ends.items() if end is not None}
    return message(_WANTED[tuple(known)], unit=kept.units, **known)


_WANTED = {
    ("least", "most"): "warning.out_of_tolerance.wanted_between",
    ("least",): "warning.out_of_tolerance.wanted_least",
    ("most",): "warning.out_of_tolerance.wanted_most",
}


def _checks(snapshot: Snapshot, kept: KeptFigure) -> tuple[Activity, ...]:
    """The checks that measure parts of it, in the order of the chain."""
    ids = {row.hold_id for row in snapshot.stack_parts_of[kept.id]}
    chain = snapshot.chain_of(kept.detail_id)
    return tuple(a for a in chain if a.id in snapshot.hold_of and snapshot.hold_of[a.id].id in ids)


def _counted(snapshot: Snapshot, kept: KeptFigure) -> str:
    """What the checks call the parts they go by."""
    for row in snapshot.stack_parts_of[kept.id]:
        hold = snapshot.holds.get(row.hold_id or "")
        if hold is not None and hold.parts:
            return hold.part_name
    return ""


def _first(schedule: Schedule, still: Sequence[Activity]) -> datetime | None:
    return min((schedule[a.id].early_start for a in still), default=None)
