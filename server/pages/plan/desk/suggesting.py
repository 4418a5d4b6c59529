"""What is offered while somebody types into a cell: a name, and the cell as it would be with it."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from server.core.world import Snapshot
from server.pages.plan.desk import layer_cells
from server.pages.plan.desk.cells import Cells
from server.pages.plan.desk.commands import others_on
from server.pages.plan.desk.naming import Names, folded

MOST = 8
_LEAD = re.compile(
    r"((?:done\s+)?(?:within\s.+?\sof|after|with|\d.*?\s(?:after|before))\s+)(.*)",
    re.IGNORECASE | re.DOTALL,
)
_BETWEEN = re.compile(r"(?:[;,\n](?![^(]*\))|\swith\s)\s*", re.IGNORECASE)


@dataclass(frozen=True)
class Offer:
    """What is offered, and what the whole cell would be."""

    said: str
    whole: str


def offered(cells: Cells, kind: str, column: str, typed: str, row_id: str) -> tuple[Offer, ...]:
    """What a cell of the order of work may go on to say; nothing where it names nothing."""
    names = cells.names_for(kind, column)
    if names is None:
        return ()
    head, last = ("", typed) if column == "looked_at" else _apart(typed, names)
    ready = _after(cells, names, last, row_id) if column == "after" else _named(names, last)
    return _whole(head, last, ready)


def offered_of_layer(
    snapshot: Snapshot, detail_id: str, side_id: str, column: str, typed: str, layer_id: str
) -> tuple[Offer, ...]:
    """The same for a cell of a layer: what can be said beside, and what it may be of."""
    if column == "also":
        others = others_on(snapshot, detail_id, side_id, layer_id)
        words = Names({said: said for said in layer_cells.also_offered(others)})
        head, last = _apart(typed, words)
        return _whole(head, last, _named(words, last))
    if column == "material":
        used = dict.fromkeys(x.material for x in snapshot.layers.values() if x.ended is None)
        return _whole("", typed, _named(Names({said: said for said in used}), typed))
    return ()


def _apart(typed: str, names: Names) -> tuple[str, str]:
    """What is said already, and what is being typed: a name begun may have a comma in it."""
    ends = [0, *(between.end() for between in _BETWEEN.finditer(typed))]
    begun = (end for end in ends[:-1] if names.begins(_LEAD.sub(r"\2", typed[end:])))
    at = next(begun, ends[-1])
    return typed[:at], typed[at:]


def _whole(head: str, last: str, ready: Iterable[str]) -> tuple[Offer, ...]:
    """Each offer with the cell it makes, without what is there or would say a thing twice."""
    head = head if not head or head[-1].isspace() else head + " "
    said = {folded(piece) for piece in _BETWEEN.split(head)}
    fresh = (offer for offer in dict.fromkeys(ready) if folded(offer) not in said)
    return tuple(Offer(offer, head + offer) for offer in fresh if offer != last)[:MOST]


def _named(names: Names, typed: str) -> Iterator[str]:
    return (names.labels[id] for id in names.likely(typed))


def _after(cells: Cells, names: Names, typed: str, row_id: str) -> Iterator[str]:
    """Names of rows, those above and nearest first; then ways in which one may come after them."""
    lead = _LEAD.fullmatch(typed)
    head, name = (lead[1], lead[2]) if lead else ("", typed)
    rows = cells.after_words.rows
    at = rows.index(row_id) if row_id in rows else len(rows)
    nearness = {id: abs(at - row - 0.5) + (len(rows) if row > at else 0)
                for row, id in enumerate(rows)}  # fmt: skip
    likely = [id for id in names.likely(name) if id != row_id]
    exact = folded(name)
    ranked = sorted(likely, key=lambda row: _fits(names.labels[row], exact, nearness.get(row)))
    yield from (head + names.labels[id] for id in ranked[: MOST - 3])
    if not lead and name.strip() and ranked:
        best = names.labels[ranked[0]]
        yield from (f"24 h after {best}", f"within 24 h of {best}", f"after {best} starts")


def _fits(label: str, wanted: str, near: float | None) -> tuple[bool, bool, bool, float]:
    """How well a row fits what is typed, the least best; other details come last."""
    label, elsewhere = folded(label), near is None
    return label != wanted, elsewhere, not label.startswith(wanted), near or 0
