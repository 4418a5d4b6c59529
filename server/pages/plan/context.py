"""What the forms and the desk of the plan both say."""

from dataclasses import dataclass

from server.core.world import Dependency, Layer, Snapshot
from server.pages.kit.forms import CLOCK_DAY, DAY
from server.words import Words

# Where a number that is not the company's own comes from.
TAGS = {"P": "common practice", "M": "from memory"}


@dataclass(frozen=True)
class AfterRow:
    """What an activity comes after, in words."""

    id: str
    name: str
    how: str


def layers_of_detail(snapshot: Snapshot, detail_id: str) -> tuple[Layer, ...]:
    """The layers of a detail that are not ended, side by side, from the bearing side."""
    order = {side.id: side.order for side in snapshot.sides.values()}
    mine = (x for x in snapshot.layers.values() if x.detail_id == detail_id and not x.ended)
    return tuple(sorted(mine, key=lambda layer: (order[layer.side_id], layer.order)))


def how_after(words: Words, d: Dependency) -> str:
    """How something comes after another, in words; nothing where it just follows."""
    said = {
        "FS": "",
        "SS": "starts with it, or after its start",
        "FF": "is done after it is done",
        "SF": "is done after it starts",
    }[d.type]
    day = DAY if d.lag_on == "work" else CLOCK_DAY
    between = ""
    if d.lag:
        span = words.span(abs(d.lag), day)
        between = f"{span} sooner" if d.lag < 0 else f"wait between {span}"
        between += " of work" if d.lag_on == "work" else ""
    within = f"within {words.span(d.most)}" if d.most is not None else ""
    return ", ".join(part for part in (said, between, within) if part)
