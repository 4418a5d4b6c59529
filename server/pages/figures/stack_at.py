"""What a stack says of the checks that measure it: the gap at each part, and what they have."""

from collections.abc import Sequence

from server.core.figures.stack import Keeping, StackFigure
from server.core.figures.stack_at_parts import AtPart
from server.pages.figures.result import Table
from server.pages.figures.stack_rows import AskedParts, Typed
from server.pages.figures.stack_said import KEEPING, fine


def tables_at(asked: AskedParts, each: Sequence[AtPart]) -> tuple[Table, ...]:
    """The gap at each part that the checks go by; none where they go by none."""
    if len(each) < 2:
        return ()
    name = _counts(asked)
    rows = tuple(
        (
            f"{name} {at.no}",
            _measured(asked, at.figure),
            fine(asked, at.figure.expected),
            asked.say(
                "stack.between",
                low=fine(asked, at.figure.worst.low),
                high=fine(asked, at.figure.worst.high),
            ),
            asked.say(KEEPING[at.figure.keeping]),
        )
        for at in each
    )
    heads = ("where", "measured", "gap", "worst", "wanted")
    out = frozenset(i for i, at in enumerate(each) if at.figure.keeping is Keeping.OUT)
    return (
        Table(
            asked.say("stack.at_each"), tuple(asked.say(HEADS[head]) for head in heads), rows,
            asked.say("stack.at_each_note"), out,
        ),
    )  # fmt: skip


def note_at(asked: AskedParts, each: Sequence[AtPart], at: AtPart) -> tuple[str, ...]:
    """At which part the numbers stand that are shown large, where they are not all alike."""
    if all(one.figure.worst == at.figure.worst for one in each):
        return ()
    return (asked.say("stack.worst_at", part=_counts(asked), no=at.no),)


def checks_table(asked: AskedParts) -> tuple[Table, ...]:
    """The parts that checks measure, and how many of each are released; none without checks."""
    rows = tuple(
        (row.part.name, row.label, _how_many(asked, row)) for row in asked.rows if row.hold_id
    )
    if not rows:
        return ()
    heads = ("part", "asks", "released")
    return (
        Table(asked.say("stack.checks"), tuple(asked.say(HEADS[head]) for head in heads), rows),
    )


HEADS = {
    "part": "stack.head.part",
    "where": "stack.head.where",
    "measured": "stack.head.measured",
    "gap": "stack.gap",
    "worst": "stack.worst",
    "wanted": "stack.wanted",
    "asks": "stack.head.asks",
    "released": "stack.head.released",
}


def _how_many(asked: AskedParts, row: Typed) -> str:
    found = row.source.found
    if not found:
        return asked.say("stack.asked_no_more")
    done = [value for value in found.values() if value is not None]
    if len(found) == 1 and done:
        return fine(asked, done[0])
    return asked.say("stack.released", done=len(done), all=len(found))


def _measured(asked: AskedParts, figure: StackFigure) -> str:
    """What is measured there; of which part, where checks measure several."""
    by_check = [one.part for row, one in zip(asked.rows, figure.parts, strict=True) if row.hold_id]
    several = len(by_check) > 1
    said = (
        f"{part.name} {fine(asked, part.value)}" if several else fine(asked, part.value)
        for part in by_check
        if part.measured is not None
    )
    return ", ".join(said) or "–"


def _counts(asked: AskedParts) -> str:
    """What the checks call the parts they go by."""
    return next((row.source.counts for row in asked.rows if row.source.numbers), "")
