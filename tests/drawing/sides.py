"""Small sides to draw."""

from server.drawing.buildup import BuildUp
from server.drawing.layers import LayerDrawn
from server.drawing.pegs import PegDrawn

LONG = "Self-adhered air and water control membrane, lapped and taped"


def a_layer(name: str = "Board", **more: object) -> LayerDrawn:
    """A layer whose id is its name unless told."""
    fields: dict[str, object] = {"id": name, "material": "board", **more}
    return LayerDrawn(name=name, **fields)  # type: ignore[arg-type]


def a_side(*layers: LayerDrawn, **more: object) -> BuildUp:
    """A side with these layers, bearing side first."""
    return BuildUp("Wall side", layers, **more)  # type: ignore[arg-type]


def a_peg(after: str, hold: str = "h", **more: object) -> PegDrawn:
    """A peg on a layer's room side."""
    fields: dict[str, object] = {"state": "empty", "label": "Height", **more}
    return PegDrawn(hold, after, **fields)  # type: ignore[arg-type]


def fourteen_long_layers() -> BuildUp:
    """The side that is hardest to label: long names, thicknesses and crews on every layer."""
    layers = [
        a_layer(
            LONG,
            id=f"l{no}",
            thickness=[5.5, 0.5, 0.125][no % 3],
            thickness_text="3 5/16 in",
            who_text="Thimble Hill Framing · Thu Dec 18, 7 am",
            next=no == 9,
            within="l4" if no in (5, 6) else None,
            passes_through=no == 3,
        )
        for no in range(14)
    ]
    return a_side(*layers)
