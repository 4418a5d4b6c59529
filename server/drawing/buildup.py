"""The build-up: a side of a detail drawn as a section, whose inking is its status."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from markupsafe import Markup

from server.drawing.layers import LayerDrawn, draw_layer
from server.drawing.layout import SMALL_SIZE, Measures, Row, label_height, lay_out
from server.drawing.notes import HEX_WIDTH, NoteLeader, Target, draw_notes
from server.drawing.pegs import PegDrawn, PegSize, draw_peg, place_pegs
from server.drawing.svg import Box, element, joined, number, path, rect
from server.drawing.through import draw_through

# One unit is one pixel at 320 px less the page's margins; wider screens enlarge the whole.
_WIDTH = 288.0
_GUTTER = HEX_WIDTH + 8
_LAYER_WIDTH = 110.0
_LEADER = 11.0
_EMPTY = 30.0  # the height of a side without layers
_PEG, _SMALL_PEG = PegSize(), PegSize(7.5, 13.0, 3.0)


@dataclass(frozen=True)
class BuildUp:
    """A side with its layers from the bearing side to the room side, its checks and notes."""

    side_name: str
    layers: tuple[LayerDrawn, ...]
    pegs: tuple[PegDrawn, ...] = ()
    notes: tuple[NoteLeader, ...] = ()
    press: bool = False
    """Each layer can be pressed: a ground without ink that bears its id lies over it."""


@lru_cache(maxsize=128)
def build_up_svg(drawing: BuildUp, *, title: str, desc: str, small: bool = False) -> Markup:
    """The drawing as one SVG element. `title` and `desc` say it in words, in the reader's language.

    Small, it has neither labels nor notes. It refers to the patterns of `hatch_defs()`.
    """
    plan = arranged(drawing, small=small)
    notes = draw_notes(plan.targets, 1.0)
    body = joined(
        (
            _outline(plan) if not plan.rows else Markup(),
            *(draw_layer(row.layer, row.box, numbers=not small) for row in plan.rows),
            draw_through(plan.rows, plan.head - (3 if small else 5), 0.6 if small else 1.0),
            *(_draw_label(row, plan.measures) for row in plan.rows),
            *(_ground(row) for row in plan.rows if drawing.press),
            notes.leaders,
            *(draw_peg(peg, box) for peg, box in plan.pegs),
            notes.hexagons,
        )
    )
    height = max(plan.foot, notes.reach) + 2
    return _framed(body, plan.measures.width, height, title, desc, small)


@dataclass(frozen=True)
class Arranged:
    """Where everything in a drawing stands. `head` and `foot` are the ends of the layers."""

    measures: Measures
    head: float
    foot: float
    rows: tuple[Row, ...]
    pegs: tuple[tuple[PegDrawn, Box], ...]
    targets: tuple[Target, ...]


def arranged(drawing: BuildUp, *, small: bool = False) -> Arranged:
    """The places of layers, pegs and the ends of leaders. A joint is at its layer's room side."""
    size = _SMALL_PEG if small else _PEG
    measures = _small_measures() if small else _measures(bool(drawing.notes))
    head = size.h / 2 + 1 if drawing.pegs else 7.0
    rows = lay_out(drawing.layers, measures, head)
    joints = {row.layer.id: row.box.y for row in rows}
    pegs = place_pegs(drawing.pegs, joints, _peg_room(measures, small), size)
    foot = max((row.box.bottom for row in rows), default=head + _EMPTY)
    targets = () if small else _targets(drawing.notes, rows, pegs)
    return Arranged(measures, head, foot, rows, pegs, targets)


def _measures(with_notes: bool) -> Measures:
    left = _GUTTER if with_notes else 2.0
    width = _LAYER_WIDTH - (14 if with_notes else 0)
    return Measures(
        width=_WIDTH,
        left=left,
        layer_width=width,
        least_row=_PEG.h + 6,
        thin=26,
        thick=58,
        label_left=left + width + _LEADER + 3,
    )


def _small_measures() -> Measures:
    return Measures(
        width=120, left=2, layer_width=116, least_row=16, thin=11, thick=28, label_left=None
    )


def _peg_room(measures: Measures, small: bool) -> Box:
    edge = 5.0 if small else 7.0
    return Box(measures.left + edge, 0, measures.layer_width - 2 * edge, 0)


def _targets(
    notes: Sequence[NoteLeader], rows: Sequence[Row], pegs: Sequence[tuple[PegDrawn, Box]]
) -> tuple[Target, ...]:
    """Where each note's leader ends; a note about nothing in this drawing has none."""
    bands = {row.layer.id: (row.box.x + 8, row.band.mid) for row in rows}
    holds = {peg.hold_id: (box.x - 1, box.y + box.h / 4) for peg, box in pegs}
    ends = ((note, holds.get(note.hold or "") or bands.get(note.layer or "")) for note in notes)
    return tuple(Target(note, *end) for note, end in ends if end)


def _draw_label(row: Row, measures: Measures) -> Markup:
    """The words of a row beside it, with a leader to their layer."""
    if measures.label_left is None or not row.label:
        return Markup()
    right = measures.left + measures.layer_width
    start = row.box.right - (6 if row.depth else 0)
    leader = f"M{number(start)} {number(row.band.mid)}H{number(right + _LEADER)}"
    y = row.band.mid - label_height(row.label) / 2
    lines: list[Markup] = []
    for line in row.label:
        y += line.height
        tail = (
            element(
                "tspan", f" {line.tail}", font_size=SMALL_SIZE, class_="bu-soft", font_weight=400
            )
            if line.tail
            else Markup()
        )
        lines.append(element(
            "text", line.text, tail, x=measures.label_left, y=y - line.height * 0.27,
            font_size=line.size, font_weight=700 if line.bold else None,
            class_=None if line.size > SMALL_SIZE else "bu-soft", unicode_bidi="plaintext",
        ))  # fmt: skip
    dot = element("circle", cx=start, cy=row.band.mid, r=2, class_="bu-dot")
    mark = path(leader, class_="bu-line") + (dot if row.depth else Markup())
    named = "bu-label is-next" if row.layer.next else f"bu-label is-{_word(row)}"
    return element("g", mark, *lines, class_=named)


def _ground(row: Row) -> Markup:
    named = element("title", row.layer.name)
    box = row.box
    return element(
        "rect", named, x=box.x, y=box.y, width=box.w, height=box.h, class_="bu-press",
        data_layer=row.layer.id,
    )  # fmt: skip


def _word(row: Row) -> str:
    return row.layer.state.replace(" ", "-")


def _outline(plan: Arranged) -> Markup:
    return rect(
        Box(plan.measures.left, plan.head, plan.measures.layer_width, _EMPTY), class_="bu-tocome"
    )


def _framed(
    body: Markup, width: float, height: float, title: str, desc: str, small: bool
) -> Markup:
    # An image hides its children from a screen reader, so a drawing with links in it is a group.
    role = "group" if "<a " in body else "img"
    return element(
        "svg", element("title", title), element("desc", desc), body,
        class_="bu bu-small" if small else "bu", viewBox=f"0 0 {number(width)} {number(height)}",
        role=role, aria_label=title,
    )  # fmt: skip
