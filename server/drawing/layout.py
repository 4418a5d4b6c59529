"""Where each layer of a side and its words stand, from the room side down to the bearing side.

A row is as high as its words need, so labels cannot overlap; beyond that, thicker layers are
higher. What lies within a layer takes a row inside its host, above the host's own.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from server.drawing.layers import LayerDrawn
from server.drawing.svg import Box
from server.drawing.text import width_of, wrapped

NAME_SIZE, SMALL_SIZE = 14.5, 12.5
_NAME_LINE, _SMALL_LINE = 17.0, 15.5


@dataclass(frozen=True)
class LabelLine:
    """One line of a label. `tail` is the thickness, set smaller behind the name."""

    text: str
    size: float
    height: float
    bold: bool = False
    tail: str = ""


@dataclass(frozen=True)
class Measures:
    """The sizes that a drawing is laid out by, in drawing units (a small phone's pixels)."""

    width: float
    left: float
    layer_width: float
    least_row: float
    thin: float
    thick: float
    label_left: float | None

    @property
    def label_width(self) -> float:
        """Room for a line of a label; 0 in a drawing without labels."""
        return 0 if self.label_left is None else self.width - self.label_left - 2


@dataclass(frozen=True)
class Row:
    """A layer in its place. `band` is the height that belongs to it and its label alone."""

    layer: LayerDrawn
    box: Box
    band: Box
    depth: int
    label: tuple[LabelLine, ...]


def lay_out(layers: Sequence[LayerDrawn], measures: Measures, top: float) -> tuple[Row, ...]:
    """The rows of a side, hosts before what lies within them. `layers` start at the bearing side.

    A layer within one that is not drawn stands on its own.
    """
    thickest = max((layer.thickness for layer in layers), default=1.0)
    by_id = {layer.id: layer for layer in layers}
    rows: list[Row] = []
    y = top
    for host in reversed([layer for layer in layers if not _hosts(layer, by_id)]):
        inside = [layer for layer in reversed(layers) if host.id in _hosts(layer, by_id)]
        bands: list[Row] = []
        for layer in (*inside, host):
            depth = len(_hosts(layer, by_id))
            label = _label(layer, measures)
            height = _row_height(layer, label, measures, thickest)
            band = Box(measures.left, y, measures.layer_width, height)
            box = Box(band.x + 11 * depth, y, band.w - 22 * depth, height - 3)
            bands.append(Row(layer, box, band, depth, label))
            y += height
        whole = Box(measures.left, bands[0].band.y, measures.layer_width, y - bands[0].band.y)
        own = bands.pop()
        rows.append(Row(host, whole, own.band, 0, own.label))
        rows.extend(bands)
    return tuple(rows)


def label_height(label: Sequence[LabelLine]) -> float:
    """How high the lines stand one below the other."""
    return sum(line.height for line in label)


def _hosts(layer: LayerDrawn, by_id: dict[str, LayerDrawn]) -> tuple[str, ...]:
    """The layers that it lies within, nearest first; none where they lie within each other."""
    hosts: list[str] = []
    within = layer.within
    while within in by_id:
        if within in (*hosts, layer.id):
            return ()
        hosts.append(within)
        within = by_id[within].within
    return tuple(hosts)


def _row_height(
    layer: LayerDrawn, label: Sequence[LabelLine], measures: Measures, thickest: float
) -> float:
    # The root keeps a thin coat visible beside a deep stud and still lets the stud look deep.
    share = sqrt(max(layer.thickness, 0) / thickest) if thickest > 0 else 0
    by_thickness = measures.thin + (measures.thick - measures.thin) * share
    return max(measures.least_row, by_thickness, label_height(label) + 7 if label else 0)


def _label(layer: LayerDrawn, measures: Measures) -> tuple[LabelLine, ...]:
    width = measures.label_width
    if not width:
        return ()
    names = wrapped(layer.name, width, NAME_SIZE, bold=layer.next)
    lines = [LabelLine(name, NAME_SIZE, _NAME_LINE, bold=layer.next) for name in names]
    tail = layer.thickness_text
    if lines and tail and _fits(lines[-1], tail, width):
        lines[-1] = LabelLine(lines[-1].text, NAME_SIZE, _NAME_LINE, layer.next, tail)
    elif tail:
        lines.extend(_small(tail, width, bold=False))
    lines.extend(_small(layer.who_text, width, bold=layer.next))
    return tuple(lines)


def _fits(line: LabelLine, tail: str, width: float) -> bool:
    name = width_of(line.text + " ", line.size, bold=line.bold)
    return name + width_of(tail, SMALL_SIZE) <= width


def _small(text: str, width: float, *, bold: bool) -> list[LabelLine]:
    return [
        LabelLine(line, SMALL_SIZE, _SMALL_LINE, bold)
        for line in wrapped(text, width, SMALL_SIZE, bold=bold)
    ]
