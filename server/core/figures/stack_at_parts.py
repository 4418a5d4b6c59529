"""A stack at each part of the checks that measure it: at each tread, say."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from server.core.figures.base import BadFigure
from server.core.figures.stack import Stack, StackFigure, stacked


@dataclass(frozen=True)
class Source:
    """What a check has measured of one part of a stack.

    `found` has what it asks for: by the number of the check's part (None: of the whole), in the
    unit of the stack, None where it is not measured yet. `counts` is what the check calls its
    parts. `off`: the check measures how far the part is off from what it should be.
    """

    found: Mapping[int | None, float | None] = field(default_factory=dict)
    counts: str = ""
    off: bool = False

    def at(self, no: int | None, nominal: float) -> float | None:
        """How long the part is there, or all of it where the check does not go by parts."""
        value = self.found.get(no, self.found.get(None))
        return nominal + value if self.off and value is not None else value

    @property
    def numbers(self) -> tuple[int, ...]:
        """The parts that it goes by."""
        return tuple(sorted(no for no in self.found if no is not None))


NO_CHECK = Source()


@dataclass(frozen=True)
class AtPart:
    """The stack at one part of the checks; `no` is None where none of them goes by parts."""

    no: int | None
    figure: StackFigure


def at_each(stack: Stack, sources: Sequence[Source]) -> tuple[AtPart, ...]:
    """The stack at each part that a check goes by, the measured values in place; one if none does.

    `sources` has one for each part of the stack, in order; it takes the place of what the part
    says of itself only where it has measured. Raises `BadFigure` as `stacked` does, and where the
    checks go by parts of different kinds.
    """
    _one_kind(sources)
    numbers = sorted({no for source in sources for no in source.numbers})
    return tuple(AtPart(no, stacked(_at(stack, sources, no))) for no in numbers or (None,))


def worst_of(each: Sequence[AtPart]) -> AtPart:
    """Where the gap is farthest outside of what is wanted, or has the least room left in it.

    The first, where that is alike.
    """
    return max(each, key=_how_bad)


def _how_bad(at: AtPart) -> tuple[float, bool, float]:
    figure = at.figure
    return abs(figure.missed), figure.strays, -figure.room


def _at(stack: Stack, sources: Sequence[Source], no: int | None) -> Stack:
    parts = []
    for part, source in zip(stack.parts, sources, strict=True):
        measured = source.at(no, part.nominal)
        parts.append(part if measured is None else replace(part, measured=measured))
    return replace(stack, parts=tuple(parts))


def _one_kind(sources: Sequence[Source]) -> None:
    first = next((source for source in sources if source.numbers), NO_CHECK)
    for no, source in enumerate(sources, 1):
        if source.numbers and source.counts != first.counts:
            raise BadFigure(
                "stack.other_parts", field=f"by-{no}", one=first.counts, other=source.counts
            )
