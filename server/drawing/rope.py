"""The order of work as a rope: one strand, two where it sets the finish, and a mark per activity.

Each row of the list carries its own piece. Strands run the whole height of the row, whatever it is,
so that the pieces join. Whipping is work done, a knot a check, a loop a wait, a splice a
delivery, a toggle a decision.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from markupsafe import Markup

from server.drawing.knots import RopeKind, RopeState, draw_knot
from server.drawing.svg import element, joined, number, path

MARK_AT = 25.0  # the middle of a row's first line of text
WIDTH = 48.0
_ONE, _TWO = 17.0, 27.0  # the middles of the first strand and of the second
_HALF = 3.0  # half the width of a strand
_JOIN = 13.0  # over which the second strand leaves or meets the first, at the top of a row


@dataclass(frozen=True)
class RopeRow:
    """One activity of the chain, as its row of the rope shows it."""

    kind: RopeKind
    state: RopeState
    sets_finish: bool = False


def rope_marks(rows: Sequence[RopeRow]) -> tuple[Markup, ...]:
    """A piece of rope for each row, in order.

    The rope begins at the first mark and ends at the last. Where rows with one strand and with
    two meet, the second strand leaves or joins the first in the lower row.
    """
    pieces = []
    for index, row in enumerate(rows):
        above = rows[index - 1] if index else None
        pieces.append(_piece(row, above, last=index + 1 == len(rows)))
    return tuple(pieces)


@lru_cache(maxsize=512)
def _piece(row: RopeRow, above: RopeRow | None, *, last: bool) -> Markup:
    top = 0.0 if above else MARK_AT
    foot = MARK_AT if last else None
    changes = above is not None and above.sets_finish != row.sets_finish
    strands = _strand(_ONE, top, foot)
    if row.sets_finish:
        strands += _strand(_TWO, _JOIN if changes else top, foot)
    if changes:
        strands += _bend(_ONE, _TWO) if row.sets_finish else _bend(_TWO, _ONE)
    behind = row.state in ("done", "released")
    rope = element("g", strands, class_=None if behind else "rp-tocome")
    centre = (_ONE + _TWO) / 2 if row.sets_finish else _ONE
    half = (_TWO - _ONE) / 2 * row.sets_finish + _HALF
    mark = element(
        "g",
        draw_knot(row.kind, row.state, half),
        class_=f"rp-mark rp-{row.state.replace(' ', '-')}",
        transform=f"translate({number(centre)} {number(MARK_AT)})",
    )
    return element("svg", rope, mark, class_="rp", width=WIDTH, height="100%", aria_hidden="true")


def _strand(x: float, top: float, foot: float | None) -> Markup:
    """Two edges and the lay between them; without `foot`, down to the end of the row."""
    edges = joined(
        element(
            "line", x1=side, x2=side, y1=top, y2="100%" if foot is None else foot, class_="rp-edge"
        )
        for side in (x - _HALF, x + _HALF)
    )
    # An inner drawing starts the pattern at its own corner and is cut off at the row's foot.
    lay = element(
        "svg",
        element("rect", width=_HALF * 2, height="100%", fill="url(#r-lay)"),
        x=x - _HALF,
        y=top,
        width=_HALF * 2,
        height="100%" if foot is None else foot - top,
    )
    return lay + edges


def _bend(start: float, end: float) -> Markup:
    """The second strand's way between the two places, both edges."""
    middle, foot = number(_JOIN / 2), number(_JOIN)
    return joined(
        path(
            f"M{number(start + side)} 0C{number(start + side)} {middle} "
            f"{number(end + side)} {middle} {number(end + side)} {foot}",
            class_="rp-edge",
        )
        for side in (-_HALF, _HALF)
    )
