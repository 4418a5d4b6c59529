"""What passes through: a rod or a wire from its own layer up through others to the face."""

from collections.abc import Sequence

from markupsafe import Markup

from server.drawing.hatches import hatch_of
from server.drawing.layers import LayerState, runs_of
from server.drawing.layout import Row
from server.drawing.svg import element, joined, number, path

_STATE_CLASS: dict[LayerState, str] = {
    "to come": "th-tocome",
    "going in": "th-begun",
    "in the open": "th-ink",
    "covered": "th-ink bu-covered",
    "opened up again": "th-ink",
}


def draw_through(rows: Sequence[Row], face: float, scale: float) -> Markup:
    """All that passes through, each standing apart from the others, up to `face` or its layer."""
    by_id = {row.layer.id: row for row in rows}
    passing = [row for row in rows if row.layer.passes_through]
    drawn: list[Markup] = []
    for index, row in enumerate(passing):
        end = by_id.get(row.layer.through_to or "")
        top = end.box.mid if end and end.box.mid < row.box.y else face
        drawn.append(_one(row, top, row.box.x + (12 + 13 * index) * scale, scale))
    return joined(drawn)


def _one(row: Row, top: float, x: float, scale: float) -> Markup:
    """Two or three of the same kind stand for all of them, one for each run of parts."""
    states = [run.state for run in runs_of(row.layer)][:3]
    if len(states) == 1 and not _is_wire(row):
        states *= 2
    apart = (row.box.w - 46 * scale) / 2
    draw = _wire if _is_wire(row) else _rod
    return joined(
        draw(x + apart * index, row, top, state, scale) for index, state in enumerate(states)
    )


def _is_wire(row: Row) -> bool:
    return hatch_of(row.layer.material) == "wire"


def _rod(x: float, row: Row, top: float, state: LayerState, scale: float) -> Markup:
    half = 3 * scale
    up = f"M{number(x - half)} {number(row.box.y)}V{number(top)}H{number(x + half)}"
    tube = path(up + f"V{number(row.box.y)}", class_=_class(row, state))
    hidden = f"M{number(x)} {number(row.box.y + 2)}V{number(row.box.bottom + 8 * scale)}"
    return tube + path(hidden, class_="th-hidden")


def _wire(x: float, row: Row, top: float, state: LayerState, scale: float) -> Markup:
    waves = max(1, round((row.box.y - top) / (16 * scale)))
    length = (row.box.y - top) / waves
    quarter, reach = number(-length / 4), 3.2 * scale
    wave = (
        f"q{number(reach)} {quarter} 0 {number(-length / 2)}"
        f"q{number(-reach)} {quarter} 0 {number(-length / 2)}"
    )
    d = f"M{number(x)} {number(row.box.mid)}V{number(row.box.y)}" + wave * waves
    halo = path(d, class_="th-halo")
    end = element("circle", cx=x, cy=top, r=2.4 * scale, class_=_class(row, state))
    return halo + path(d, class_=f"th-wire {_class(row, state)}") + end


def _class(row: Row, state: LayerState) -> str:
    return "th-next" if row.layer.next else _STATE_CLASS[state]
