"""The order that layers imply, as arrows beside a build-up: from what comes first to its cover."""

from collections.abc import Sequence
from dataclasses import replace

from markupsafe import Markup

from server.drawing.buildup import BuildUp
from server.drawing.layers import draw_layer
from server.drawing.layout import SMALL_SIZE, Measures, Row, label_height
from server.drawing.order_lanes import CHIP, LEADER, Arrow, Placed, Sheet, chip_width, sheets
from server.drawing.pegs import draw_peg
from server.drawing.svg import Box, element, joined, number, path, rect
from server.drawing.through import draw_through

_HEAD, _HALF_HEAD = 8.5, 4.5


def order_arrows(
    side: BuildUp, arrows: Sequence[Arrow], *, title: str, desc: str
) -> tuple[Markup, ...]:
    """The side with its arrows, as one SVG element or, where there are many, as several.

    It refers to the patterns of `hatch_defs()`. An arrow of a layer that is not drawn is left out.
    """
    return tuple(_drawn(sheet, title, desc) for sheet in sheets(side, arrows))


def arrow_mark(no: int, *, against: bool) -> Markup:
    """The number and the stroke of an arrow, turning as in the drawing, for its sentence's line."""
    chip = Box(1, 21, chip_width(no), CHIP)
    lane = number(chip.x + chip.w / 2)
    line = path(f"M{lane} {number(chip.y)}V6H23", class_="oa-line")
    bar = path(f"M{lane} 13.5m-6 0h12", class_="oa-bar") if against else Markup()
    whole = element("g", line, bar, _head(31, 6), _chip(no, chip), class_=_class(against))
    return element(
        "svg", whole, class_="oa-mark", width=40, viewBox="0 0 32 38", aria_hidden="true"
    )


def _drawn(sheet: Sheet, title: str, desc: str) -> Markup:
    top = min((row.box.y for row in sheet.rows), default=0)
    pegs = [replace(peg, href="") for peg, _ in sheet.pegs]
    body = joined(
        (
            *(draw_layer(row.layer, row.box, numbers=False) for row in sheet.rows),
            draw_through(sheet.rows, top - 4, 0.6),
            *(_draw_label(row, sheet.measures) for row in sheet.rows),
            *(draw_peg(peg, box) for peg, (_, box) in zip(pegs, sheet.pegs, strict=True)),
            *(path(_line(one), class_="oa-halo") for one in sheet.arrows),
            *(_draw_arrow(one) for one in sorted(sheet.arrows, key=lambda one: one.lane)),
            *(
                element("g", _chip(a.arrow.number, a.chip), class_=_class(a.arrow.against))
                for a in sheet.arrows
            ),
        )
    )
    width = sheet.measures.width
    feet = (*(row.box.bottom for row in sheet.rows), *(a.chip.bottom for a in sheet.arrows))
    return element(
        "svg", element("title", title), element("desc", desc), body, class_="bu oa", role="img",
        viewBox=f"0 0 {number(width)} {number(max(feet, default=0) + 2)}", aria_label=title,
    )  # fmt: skip


def _draw_arrow(one: Placed) -> Markup:
    dot = element("circle", cx=one.start[0] + 1, cy=one.start[1], r=3.2, class_="oa-full")
    bar = _bar(one) if one.arrow.against else Markup()
    line = path(_line(one), class_="oa-line")
    return element("g", line, dot, _head(*one.end), bar, class_=_class(one.arrow.against))


def _line(one: Placed) -> str:
    (x, y), (end_x, end_y) = one.start, one.end
    along = f"H{number(one.lane)}V{number(end_y)}H{number(end_x - _HEAD + 1)}"
    return f"M{number(x)} {number(y)}{along}"


def _bar(one: Placed) -> Markup:
    """Across the lane, half way between the number and where the arrow turns to its end."""
    end = one.end[1]
    near = one.chip.y if end < one.chip.y else one.chip.bottom
    return path(f"M{number(one.lane - 6.5)} {number((near + end) / 2)}h13", class_="oa-bar")


def _head(x: float, y: float) -> Markup:
    d = f"M{number(x)} {number(y)}l{number(-_HEAD)} {number(-_HALF_HEAD)}v{number(2 * _HALF_HEAD)}z"
    return path(d, class_="oa-full")


def _chip(no: int, box: Box) -> Markup:
    text = element(
        "text", str(no), x=box.x + box.w / 2, y=box.mid + 4.4, font_size=12.5, font_weight=700,
        text_anchor="middle",
    )  # fmt: skip
    return rect(box, class_="oa-chip", stroke_width=1.6, rx=2) + text


def _class(against: bool) -> str:
    return "oa-against" if against else "oa-undrawn"


def _draw_label(row: Row, measures: Measures) -> Markup:
    """The layer's name, and under it the tasks named beside it, with a leader to the layer."""
    if measures.label_left is None or not row.label:
        return Markup()
    start = row.box.right - (6 if row.depth else 0)
    right = measures.left + measures.layer_width + LEADER
    leader = path(f"M{number(start)} {number(row.band.mid)}H{number(right)}", class_="bu-line")
    y = row.band.mid - label_height(row.label) / 2
    lines: list[Markup] = []
    for line in row.label:
        y += line.height
        lines.append(element(
            "text", line.text, x=measures.label_left, y=y - line.height * 0.27,
            font_size=line.size, class_=None if line.size > SMALL_SIZE else "bu-soft",
            unicode_bidi="plaintext",
        ))  # fmt: skip
    return element("g", leader, *lines, class_="bu-label")
