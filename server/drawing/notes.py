"""Numbered notes: the hexagon, and its leader to the layer or peg that it is about."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from server.drawing.svg import Box, element, joined, number, path

Badness = Literal["danger", "lost work", "in the way", "watch"]

_OUTER = "M11 2h18l9 16-9 16H11L2 18z"
_INNER = "M13.5 8.5h13l5.5 9.5-5.5 9.5h-13L8 18z"
_CLASS: dict[Badness, str] = {
    "danger": "hx-danger",
    "lost work": "hx-lost",
    "in the way": "hx-way",
    "watch": "hx-watch",
}
_SCALE = 0.72
HEX_WIDTH, HEX_HEIGHT = 40 * _SCALE, 36 * _SCALE


@dataclass(frozen=True)
class NoteLeader:
    """A note's number on the drawing, with a leader to a layer, or to the peg of a check."""

    number: int
    badness: Badness
    label: str
    layer: str | None = None
    hold: str | None = None
    href: str = ""


@dataclass(frozen=True)
class Target:
    """Where a leader ends."""

    note: NoteLeader
    x: float
    y: float


def hexagon(no: int, badness: Badness) -> Markup:
    """A note's hexagon for the list beside its sentence, which says in words how bad it is."""
    return element(
        "svg", _hexagon(no, badness), class_="hex", viewBox="0 0 40 36", aria_hidden="true"
    )


def spread(heights: Sequence[float], apart: float, least: float) -> tuple[float, ...]:
    """Heights in the given order, moved no further than needed to stand `apart` from each other.

    `heights` ascend. Each group that is pushed together stays centred on where it wanted to be,
    but never above `least`.
    """
    groups: list[list[float]] = []
    for height in heights:
        groups.append([height])
        while len(groups) > 1 and _top(groups[-1], apart, least) < (
            _top(groups[-2], apart, least) + len(groups[-2]) * apart
        ):
            last = groups.pop()
            groups[-1].extend(last)
    return tuple(
        _top(group, apart, least) + index * apart for group in groups for index in range(len(group))
    )


@dataclass(frozen=True)
class NotesDrawn:
    """Leaders go under the pegs and hexagons over all; `reach` is how far down these stand."""

    leaders: Markup
    hexagons: Markup
    reach: float


def draw_notes(targets: Sequence[Target], left: float) -> NotesDrawn:
    """The hexagons in a column at `left`, each with a leader to its target."""
    ordered = sorted(targets, key=lambda target: (target.y, target.note.number))
    centres = spread([target.y for target in ordered], HEX_HEIGHT + 3, HEX_HEIGHT / 2 + 1)
    lines = joined(
        _leader(target, left + HEX_WIDTH - 2, y) for target, y in zip(ordered, centres, strict=True)
    )
    marks = joined(
        _mark(target.note, Box(left, y - HEX_HEIGHT / 2, HEX_WIDTH, HEX_HEIGHT))
        for target, y in zip(ordered, centres, strict=True)
    )
    return NotesDrawn(lines, marks, max(centres, default=0) + HEX_HEIGHT / 2 + 1)


def _top(group: Sequence[float], apart: float, least: float) -> float:
    middle = sum(group) / len(group)
    return max(least, middle - (len(group) - 1) * apart / 2)


def _leader(target: Target, x: float, y: float) -> Markup:
    d = f"M{number(x)} {number(y)}L{number(target.x)} {number(target.y)}"
    dot = element("circle", cx=target.x, cy=target.y, r=2.6, class_="hx-dot")
    return path(d, class_="bu-halo") + path(d, class_="bu-line") + dot


def _mark(note: NoteLeader, box: Box) -> Markup:
    mark = element(
        "g",
        element("title", note.label),
        _hexagon(note.number, note.badness),
        transform=f"translate({number(box.x)} {number(box.y)}) scale({_SCALE})",
    )
    return element("a", mark, href=note.href, aria_label=note.label) if note.href else mark


def _hexagon(no: int, badness: Badness) -> Markup:
    hatch = {"lost work": "url(#n-lost)", "in the way": "url(#n-way)"}.get(badness)
    inner = path(_INNER, class_="bu-sheet") if hatch else Markup()
    digits = len(str(no))
    text = element(
        "text", str(no), x=20, y=23.8, font_size={1: 17, 2: 15}.get(digits, 11),
        text_anchor="middle", font_weight=700,
    )  # fmt: skip
    body = path(_OUTER, class_="hx-body") + (path(_OUTER, fill=hatch) if hatch else Markup())
    return element(
        "g", body, inner, path(_OUTER, class_="hx-edge"), text, class_=f"hx {_CLASS[badness]}"
    )
