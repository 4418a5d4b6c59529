"""The facts of two tasks as those of one."""

from dataclasses import replace
from typing import Any

from server.core.changes.inputs import BadInput
from server.core.world import Activity

EITHER = (
    "overhead", "wet", "dirty", "hot", "heavy", "closes_place", "finish_wood", "shakes",
    "carries_datum", "one_day",
)  # fmt: skip
"""What is true of both as soon as it is true of one."""
SAME = ("calendar_id", "rework_of_id")
"""What has to be the same of both."""
ONE_OF = (
    "opens_way_id", "closes_way_id", "edge", "stuff", "circuit", "way_in_id", "sample_id",
    "sheet_id", "measured_from_id", "temporary", "temporary_id",
)  # fmt: skip
"""What may be said of one, or the same of both."""


def facts_of_both(first: Activity, second: Activity, work: int) -> Activity:
    """The first with what is said of either; refused where they say different things.

    Its time is the company's own now: `work` minutes, its range that of both together.
    """
    for name in SAME:
        if getattr(first, name) != getattr(second, name):
            raise BadInput("plan.merge_differs", field="second_id", what=name)
    said: dict[str, Any] = {name: _one_of(name, first, second) for name in ONE_OF}
    either = {name: getattr(first, name) or getattr(second, name) for name in EITHER}
    starts = [a.not_before for a in (first, second) if a.not_before]
    ends = [a.finish_by for a in (first, second) if a.finish_by]
    hot = [a for a in (first, second) if a.hot]
    low, high = (_sum(name, first, second) for name in ("low", "high"))
    return replace(
        first,
        work=work,
        low=None if low is None else min(low, work),
        high=None if high is None else max(high, work),
        tag="",
        not_before=max(starts, default=None),
        finish_by=min(ends, default=None),
        fire_watch=bool(hot) and all(a.fire_watch for a in hot),
        circuit_dead=None if second.circuit and not second.circuit_dead else first.circuit_dead,
        **said,
        **either,
    )


def _one_of(name: str, first: Activity, second: Activity) -> Any:
    one, other = getattr(first, name), getattr(second, name)
    if one and other and one != other:
        raise BadInput("plan.merge_differs", field="second_id", what=name)
    return one or other


def _sum(name: str, first: Activity, second: Activity) -> int | None:
    if getattr(first, name) is None and getattr(second, name) is None:
        return None
    numbers = (getattr(a, name) for a in (first, second))
    return sum(
        a.work if number is None else number
        for a, number in zip((first, second), numbers, strict=True)
    )
