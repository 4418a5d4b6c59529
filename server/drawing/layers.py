"""The layers of a side as they are drawn, and how one is inked for the state it is in."""

from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from markupsafe import Markup

from server.drawing.hatches import fill_of, hatch_of
from server.drawing.svg import Box, element, joined, number, path, rect
from server.drawing.text import width_of

LayerState = Literal["to come", "going in", "in the open", "covered", "opened up again"]


@dataclass(frozen=True)
class PartDrawn:
    """One counted piece of a layer (bay 3, tread 7) and its state."""

    no: int
    state: LayerState


@dataclass(frozen=True)
class LayerDrawn:
    """One layer. `thickness` is relative to the other layers of the side.

    `within` names the layer it lies in; `passes_through` draws it from its own place up to the
    face, or into the layer `through_to`. `next` is the layer that the next crew puts in.
    """

    id: str
    name: str
    material: str
    state: LayerState = "to come"
    thickness: float = 1.0
    thickness_text: str = ""
    who_text: str = ""
    next: bool = False
    within: str | None = None
    passes_through: bool = False
    through_to: str | None = None
    parts: tuple[PartDrawn, ...] = ()


@dataclass(frozen=True)
class Run:
    """Neighbouring parts of one layer in one state."""

    first: int
    last: int
    count: int
    state: LayerState

    @property
    def text(self) -> str:
        """The parts' numbers, as "3" or "3–6"."""
        return str(self.first) if self.first == self.last else f"{self.first}–{self.last}"


def runs_of(layer: LayerDrawn) -> tuple[Run, ...]:
    """The layer's parts as runs of one state; a single run without numbers where it has none."""
    if not layer.parts:
        return (Run(0, 0, 1, layer.state),)
    runs = []
    for state, parts in groupby(layer.parts, key=lambda part: part.state):
        members = list(parts)
        runs.append(Run(members[0].no, members[-1].no, len(members), state))
    return tuple(runs)


def draw_layer(layer: LayerDrawn, box: Box, *, numbers: bool) -> Markup:
    """The layer in its box: one piece, or split where the states of its parts differ."""
    runs = runs_of(layer)
    total = sum(run.count for run in runs)
    drawn: list[Markup] = []
    left = box.x
    for run in runs:
        piece = Box(left, box.y, box.w * run.count / total, box.h)
        left = piece.right
        drawn.append(_inked(layer, piece, run.state))
        if numbers and len(runs) > 1 and width_of(run.text, 10) + 6 <= piece.w:
            drawn.append(_part_numbers(run.text, piece))
    if layer.next:
        drawn.append(_next_outline(layer, box))
    return joined(drawn)


def _inked(layer: LayerDrawn, box: Box, state: LayerState) -> Markup:
    if state == "to come":
        wash = rect(box.inset(1.5), class_="bu-wash") if layer.next else Markup()
        return wash + rect(box.inset(0.5), class_="bu-tocome")
    if state == "going in":
        return _half_inked(layer, box)
    body = _body(layer, box)
    if state == "covered":
        # A ground of its own, so that its host does not show through the pale ink.
        pale = element("g", body, rect(box.inset(0.5), class_="bu-line"), class_="bu-covered")
        return rect(box, class_="bu-sheet") + pale
    if state == "opened up again":
        return body + _torn_open(box)
    return body + rect(box.inset(1), class_="bu-ink")


def _body(layer: LayerDrawn, box: Box) -> Markup:
    ground = rect(box, class_="bu-sheet")
    if hatch_of(layer.material) == "batt":
        return ground + _batt(box)
    fill = fill_of(layer.material)
    return ground + (rect(box, fill=fill) if fill else Markup())


def _batt(box: Box) -> Markup:
    """A batt's loops reach from face to face, which a pattern of one size cannot."""
    loops = max(1, round(box.w / max(10.0, box.h * 0.6)))
    half, reach = number(box.w / loops / 2), box.h * 0.62
    up, down = (f"c0 {number(y)} {half} {number(y)} {half} 0" for y in (-reach, reach))
    start = f"M{number(box.x)} {number(box.mid)}"
    return path(start + (up + down) * loops, class_="bu-line") + path(
        start + (down + up) * loops, class_="bu-thin"
    )


def _half_inked(layer: LayerDrawn, box: Box) -> Markup:
    """Inked up to a slanting working edge, the rest still a dashed outline."""
    slant = min(8.0, box.w / 6)
    top, foot = box.x + box.w / 2 + slant, box.x + box.w / 2 - slant
    d = (
        f"M{number(box.x + 1)} {number(box.y + 1)}H{number(top)}L{number(foot)} "
        f"{number(box.bottom - 1)}H{number(box.x + 1)}z"
    )
    fill = fill_of(layer.material)
    hatched = path(d, fill=fill) if fill else Markup()
    return (
        rect(box.inset(0.5), class_="bu-tocome")
        + path(d, class_="bu-sheet")
        + hatched
        + path(d, class_="bu-ink")
    )


def _torn_open(box: Box) -> Markup:
    """Full ink with a broken line along the room side: the face over it has been taken off."""
    teeth = max(2, round(box.w / 14))
    width = (box.w - 2) / teeth
    d = f"M{number(box.x + 1)} {number(box.y + 4)}V{number(box.bottom - 1)}"
    d += f"H{number(box.right - 1)}V{number(box.y + 4)}"
    d += f"l{number(-width / 2)} -5 {number(-width / 2)} 5" * teeth
    return path(d, class_="bu-ink")


def _next_outline(layer: LayerDrawn, box: Box) -> Markup:
    begun = any(run.state != "to come" for run in runs_of(layer))
    return rect(box.inset(1.5), class_="bu-next", stroke_dasharray=None if begun else "9 5")


def _part_numbers(text: str, box: Box) -> Markup:
    # Under the middle, where a leader may end.
    centre, half, y = (
        box.x + box.w / 2,
        width_of(text, 10) / 2 + 2,
        min(box.mid + 9, box.bottom - 9),
    )
    ground = rect(Box(centre - half, y - 6.5, half * 2, 13), class_="bu-sheet", rx=2)
    return ground + element("text", text, x=centre, y=y + 3.7, font_size=10, text_anchor="middle")
