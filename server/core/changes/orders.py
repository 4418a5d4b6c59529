"""Where a new row stands among its like: `order` with room between, so that few rows move."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

GAP = 16


class Ordered(Protocol):
    """A row with a place in a list."""

    @property
    def id(self) -> str:
        """Its id."""

    @property
    def order(self) -> int:
        """Its place."""


R = TypeVar("R", bound=Ordered)


def at_the_end(rows: Sequence[Ordered]) -> int:
    """The order of a row behind all others."""
    return max((row.order for row in rows), default=0) + GAP


def behind(rows: Sequence[R], id: str | None) -> tuple[int, tuple[R, ...]]:
    """The order of a new row right behind the row `id` (None: before all), and the rows moved.

    Rows come in their order. Those behind move on only where there is no room between.
    """
    index = next((i + 1 for i, row in enumerate(rows) if row.id == id), 0)
    before = rows[index - 1].order if index else None
    if index == len(rows):
        return at_the_end(rows), ()
    following = rows[index].order
    if before is None:
        return following - GAP, ()
    if following - before > 1:
        return (before + following) // 2, ()
    moved = tuple(replace(row, order=row.order + GAP) for row in rows[index:])  # type: ignore[type-var]
    return before + GAP // 2, moved


def placed(rows: Sequence[R], new: Sequence[R], id: str | None) -> tuple[R, ...]:
    """Rows put right behind the row `id` (None: before all), in their order.

    `rows` come in their order, without the new ones. Given back are the new rows with where they
    stand, and those behind that had to move on.
    """
    index = next((i + 1 for i, row in enumerate(rows) if row.id == id), 0)
    moved: tuple[R, ...] = ()
    if index == len(rows):
        first, apart = at_the_end(rows), GAP
    elif not index:
        first, apart = rows[0].order - GAP * len(new), GAP
    else:
        before, following = rows[index - 1].order, rows[index].order
        apart = min(GAP, (following - before) // (len(new) + 1))
        if not apart:
            apart, on = GAP, GAP * (len(new) + 1)
            moved = tuple(_at(row, row.order + on) for row in rows[index:])
        first = before + apart
    return (*(_at(row, first + apart * n) for n, row in enumerate(new)), *moved)


def _at(row: R, order: int) -> R:
    return replace(row, order=order)  # type: ignore[type-var]
