"""What fits on the sheet: lines and heights in millimeters, the same as `sheet.css` sets them.

A sheet is 186 x 250 mm, what Letter and A4 have in common within margins of 12 mm. The reader's
font is unknown here, so widths are an upper estimate (`drawing.text`): what is said to fit does.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from server.drawing.text import width_of, wrapped

WIDTH, HEIGHT, GUTTER = 186.0, 250.0, 6.0
HEAD, HEADING, GAP = 36.0, 8.0, 2.2
MARK = 9.0
"""Room for the number or the peg at the left of an entry."""
DRAWN = 84.0
"""The most height for a drawing, without its name."""
FOOT_GAP = 4.0


@dataclass(frozen=True)
class Type:
    """A size of letters and the height of its line."""

    size: float
    line: float
    bold: bool = False


NAME, TEXT, FINE = Type(3.7, 4.6, bold=True), Type(3.0, 3.8), Type(2.6, 3.3)
TITLE, SUB = Type(7.6, 8.4, bold=True), Type(3.4, 4.2)


def height_of(text: str, width: float, type: Type) -> float:
    """How high a text stands in a column of this width."""
    return len(wrapped(text, width, type.size, bold=type.bold)) * type.line


def shortened(text: str, width: float, type: Type, most: int) -> str:
    """The text in at most so many lines; where it goes on it ends in "…".

    >>> shortened("Height of each stand-off, plumb over the nosing line", 40, TEXT, 1)
    'Height of each stand-off…'
    """
    lines = wrapped(text, width, type.size, bold=type.bold)
    if len(lines) <= most:
        return text.strip()
    last = lines[most - 1]
    while last and width_of(f"{last}…", type.size, bold=type.bold) > width:
        last = last[:-1]
    return " ".join((*lines[: most - 1], last.rstrip(" ,;:.") + "…"))


def that_fit(heights: Sequence[float], room: float, after: float) -> int:
    """How many of these, from the first, fit into the room; `after` is kept for saying the rest.

    >>> that_fit((10, 10, 10), 30, 5), that_fit((10, 10, 10), 29, 5)
    (3, 2)
    """
    if sum(heights) <= room:
        return len(heights)
    count, used = 0, after
    while count < len(heights) and used + heights[count] <= room:
        used += heights[count]
        count += 1
    return count


def drawn_height(drawing: Markup, width: float) -> float:
    """How high a drawing stands that is this wide, by its own view box."""
    box = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', drawing)
    return min(DRAWN, width * float(box[2]) / float(box[1])) if box else 0.0
