"""Pegs: the mark of a check across the joint between two layers. Pegs never touch."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from server.drawing.svg import Box, element, number, path

PegState = Literal["empty", "set", "driven", "pulled", "again"]


@dataclass(frozen=True)
class PegDrawn:
    """A check. It sits on the joint at the room side of the layer `after_layer`."""

    hold_id: str
    after_layer: str
    state: PegState
    label: str
    href: str = ""


@dataclass(frozen=True)
class PegSize:
    """Width and height of a peg, and the least room between two, in drawing units."""

    w: float = 13.0
    h: float = 28.0
    gap: float = 4.0


# Drawn in a field of 14 by 28 with the joint at 14. An empty hole; a peg standing in its hole;
# driven home, flush, with its two flutes; drawn out and lying above the hole; half way, to be
# looked at again.
_HOLE = "M2 5a3 3 0 0 1 3-3h4a3 3 0 0 1 3 3v18a3 3 0 0 1-3 3h-4a3 3 0 0 1-3-3z"
_LOW_HOLE = "M2 13v10a3 3 0 0 0 3 3h4a3 3 0 0 0 3-3v-10"
_STANDING = "M1 1h12v5h-2v12a2 2 0 0 1-2 2h-4a2 2 0 0 1-2-2v-12h-2z"
_LYING = "M1.5 7.2L9.8 1l2.8 3.6L4.3 10.8z"
_SHAPES: dict[PegState, tuple[tuple[str, str], ...]] = {
    "empty": ((_HOLE, "pg-empty"),),
    "set": ((_LOW_HOLE, "pg-hole"), (_STANDING, "pg-full")),
    "driven": ((_HOLE, "pg-full"), ("M5.2 6v16M8.8 6v16", "pg-flute")),
    "pulled": (("M2 14h10v9a3 3 0 0 1-3 3h-4a3 3 0 0 1-3-3z", "pg-hole"), (_LYING, "pg-full")),
    "again": ((_LOW_HOLE, "pg-hole"), (_STANDING, "pg-hole"), ("M3 12h8", "pg-bar")),
}


def place_pegs(
    pegs: Sequence[PegDrawn],
    joints: Mapping[str, float],
    room: Box,
    size: PegSize,
) -> tuple[tuple[PegDrawn, Box], ...]:
    """Each peg with its box: side by side from the right of `room`, narrower where many share.

    `joints` gives the height of the joint over each layer. Joints nearer than a peg is tall share
    one line of pegs, so that no two pegs touch. Pegs of layers that are not drawn are left out.
    """
    drawn = sorted(
        (peg for peg in pegs if peg.after_layer in joints),
        key=lambda peg: joints[peg.after_layer],
    )
    placed: list[tuple[PegDrawn, Box]] = []
    for row in _rows(drawn, joints, size):
        pitch = min(size.w + size.gap, room.w / len(row))
        width = min(size.w, pitch * 0.75)
        for index, peg in enumerate(row):
            x = room.right - width - index * pitch
            placed.append((peg, Box(x, joints[peg.after_layer] - size.h / 2, width, size.h)))
    return tuple(placed)


def draw_peg(peg: PegDrawn, box: Box) -> Markup:
    """One peg in its box: a link where it has an address, with its words as its title."""
    title = element("title", peg.label)
    shape = element(
        "g",
        title,
        _shape(peg.state),
        class_=f"pg pg-{peg.state}-is",
        transform=f"translate({number(box.x)} {number(box.y)}) "
        f"scale({box.w / 14:.3g} {box.h / 28:.3g})",
    )
    return element("a", shape, href=peg.href, aria_label=peg.label) if peg.href else shape


def peg_mark(state: PegState) -> Markup:
    """One peg on its own, for a list of checks or the key to the drawing."""
    joint = path("M0 14H24", class_="bu-line")
    peg = element("g", _shape(state), class_=f"pg pg-{state}-is", transform="translate(5 0)")
    return element("svg", joint, peg, class_="pegmark", viewBox="0 0 24 28", aria_hidden="true")


def _shape(state: PegState) -> Markup:
    # The halo keeps a peg apart from the hatch it stands on.
    halo = path(_HOLE, class_="pg-halo")
    return halo + Markup("").join(path(d, class_=name) for d, name in _SHAPES[state])


def _rows(
    pegs: Sequence[PegDrawn], joints: Mapping[str, float], size: PegSize
) -> list[list[PegDrawn]]:
    rows: list[list[PegDrawn]] = []
    last = float("-inf")
    for peg in pegs:
        height = joints[peg.after_layer]
        if height - last > size.h + 1:
            rows.append([])
        rows[-1].append(peg)
        last = height
    return rows
