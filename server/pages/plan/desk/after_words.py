"""What an activity comes after, typed in plain words and written again.

base coat dries                    starts when that is done
24 h after base coat               by the clock; "1 d of work after" counts working time
within 24 h of brown coat          when it is done, and no later than that
24 h to 36 h after brown coat      both
2 h before lath is done            sooner than it is done
after lath starts                  "with lath", "2 h after lath starts"
done after lath                    is done no sooner; "done 1 d after lath"
3                                  row 3 of the order of work
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from server.core.refusals import Refusal
from server.core.world import Activity, Dependency, Snapshot
from server.pages.kit.forms import CLOCK_DAY, DAY, BadField, read_span
from server.pages.plan.desk.naming import Names, pieces
from server.pages.plan.writing import span_written

FIELD = "after"
_SPAN = r"\d[\d\s./½-]*(?:min\w*|h|hours?|d|days?|w|wk|weeks?)\b\.?"
_PHRASE = re.compile(
    rf"(?P<done>done\s+)?"
    rf"(?:within\s+(?P<within>{_SPAN})\s+of|(?:after|with)"
    rf"|(?P<lag>{_SPAN})(?P<work>\s+of\s+work)?(?P<sooner>\s+before)?"
    rf"(?:\s+to\s+(?P<most>{_SPAN}))?\s+(?P<way>after|before))\s+"
    rf"(?P<name>.+?)",
    re.IGNORECASE | re.DOTALL,
)
_STARTS = re.compile(r"(.+?)\s+(?:starts|starting|begins)", re.IGNORECASE | re.DOTALL)
_ENDS = re.compile(r"(.+?)\s+(?:is done|ends|is over)", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True)
class After:
    """How one thing comes after another; times in minutes. See `world.Dependency`."""

    before_id: str
    type: str = "FS"
    lag: int = 0
    lag_on: str = "clock"
    most: int | None = None

    @classmethod
    def of(cls, d: Dependency) -> "After":
        """What a dependency says."""
        return cls(d.before_id, d.type, d.lag, d.lag_on, d.most)


def labels_of(snapshot: Snapshot, detail_id: str) -> dict[str, str]:
    """Every activity of the house under a name that only it has, those of the detail first.

    What is called like another of its detail has its row beside it; what belongs to another
    detail, the name of that.
    """
    labels: dict[str, str] = {}
    details = (detail_id, *(id for id in snapshot.details if id != detail_id))
    for id in details:
        chain = snapshot.chain_of(id)
        names = [a.name for a in chain]
        for row, activity in enumerate(chain, 1):
            beside = [snapshot.details[id].name] if id != detail_id else []
            beside += [f"row {row}"] if names.count(activity.name) > 1 else []
            name = activity.name.replace(";", ",")  # in a cell it stands between two of them
            labels[activity.id] = name + (f" ({', '.join(beside)})" if beside else "")
    return labels


class AfterWords:
    """The words of one detail: `labels` as `labels_of` gives them, `chain` its rows in order."""

    def __init__(self, labels: Mapping[str, str], chain: Iterable[Activity]) -> None:
        self.rows = [a.id for a in chain]
        self.names = Names(labels)

    def read(self, text: str) -> tuple[After, ...]:
        """What a cell says. Raises `BadField` for what cannot be read or is not there."""
        return tuple(self._one(piece) for piece in pieces(text, self._known))

    def written(self, orders: Iterable[After]) -> str:
        """A cell that says this; `read` gives the same back."""
        return ", ".join(self.phrase(order) for order in orders)

    def phrase(self, order: After) -> str:
        """One of them in words."""
        name = self.names.labels[order.before_id]
        done = "done " if order.type[1] == "F" else ""
        starts = " starts" if order.type[0] == "S" else ""
        day = DAY if order.lag_on == "work" else CLOCK_DAY
        most = span_written(order.most, CLOCK_DAY) or "0 h"
        if order.lag:
            lag = span_written(abs(order.lag), day) + (" of work" if order.lag_on == "work" else "")
            lag += " before" * (order.lag < 0)
            if order.most is not None:
                return f"{done}{lag} to {most} after {name}{starts}"
            if order.lag < 0:
                return f"{done}{lag} {name}{starts or ' is done'}"
            return f"{done}{lag} after {name}{starts}"
        if order.most is not None:
            return f"{done}within {most} of {name}{starts}"
        return f"{done}after {name}{starts}" if done or starts else name

    def _one(self, typed: str) -> After:
        known = self.names.exact(typed) or self._row(typed)
        if known is not None:
            return After(known)
        found = _PHRASE.fullmatch(typed)
        if found is None:
            starts = _STARTS.fullmatch(typed)
            if starts and self.names.exact(starts[1]):
                return After(self.names.find(starts[1], FIELD), "SS")
            return After(self.names.find(typed, FIELD))
        before_id, starts_too = self._named(found["name"])
        on = "work" if found["work"] else "clock"
        lag = _minutes(found["lag"], DAY if on == "work" else CLOCK_DAY)
        with_it = re.match(r"(?:done\s+)?with\s", typed, re.IGNORECASE)
        first = "S" if starts_too or (with_it and not found["done"]) else "F"
        most = found["within"] or found["most"]
        return After(
            before_id,
            type=first + ("F" if found["done"] else "S"),
            lag=-lag if found["sooner"] or found["way"] == "before" else lag,
            lag_on=on if lag else "clock",
            most=_minutes(most, CLOCK_DAY) if most else None,
        )

    def _known(self, typed: str) -> bool:
        """Whether it is, or ends with, just the name of something."""
        found = _PHRASE.fullmatch(typed)
        name = found["name"] if found else typed
        tails = (tail.fullmatch(name) for tail in (_STARTS, _ENDS))
        return any(map(self.names.knows, (typed, name, *(tail[1] for tail in tails if tail))))

    def _named(self, typed: str) -> tuple[str, bool]:
        """Whose name it is, and whether its start is meant."""
        known = self.names.exact(typed) or self._row(typed)
        if known is not None:
            return known, False
        for tail, starts in ((_STARTS, True), (_ENDS, False)):
            if found := tail.fullmatch(typed):
                name = found[1]
                return self._row(name) or self.names.find(name, FIELD), starts
        return self.names.find(typed, FIELD), False

    def _row(self, typed: str) -> str | None:
        found = re.fullmatch(r"(?:row\s+)?(\d{1,3})", typed.strip(), re.IGNORECASE)
        if found is None:
            return None
        row = int(found[1])
        if not 1 <= row <= len(self.rows) or self.rows[row - 1] not in self.names.labels:
            raise BadField("desk.no_such_row", field=FIELD, row=row, rows=len(self.rows))
        return self.rows[row - 1]


def _minutes(typed: str | None, day: int) -> int:
    if typed is None:
        return 0
    try:
        return read_span(typed, FIELD, day)
    except Refusal as refusal:
        raise BadField(refusal.id, field=FIELD, **refusal.values) from None
