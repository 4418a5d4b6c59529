"""Material hatches: the customary fill of each material in a section, as SVG patterns.

Patterns are defined once on a page and referred to by id. They are inked in the color of the page's
text, so that they turn with the dark sheet.
"""

from collections.abc import Iterable

from markupsafe import Markup

# key: tile width, tile height, turn in degrees, what is inked in the tile
_TILES: dict[str, tuple[float, float, int, str]] = {
    "wood": (
        46,
        14,
        0,
        '<path d="M0 3.5q12-3 23 0t23 0M0 10.5q10 3 23 0t23 0M8 7q7 1.6 14 0" stroke-width=".9"/>',
    ),
    "ply": (40, 6, 0, '<path d="M0 1h40M0 4h40M4 1v3M16 1v3M30 1v3" stroke-width=".7"/>'),
    "board": (
        16,
        16,
        0,
        '<path d="M0 16L16 0" stroke-width=".5"/><path d="M3 4h2M11 12h2" stroke-width=".9"/>',
    ),
    "lath": (
        14,
        9,
        0,
        '<path d="M0 4.5l3.5-3.5 7 7 3.5-3.5M0 4.5l3.5 3.5 7-7 3.5 3.5" stroke-width=".6"/>',
    ),
    "batt": (
        26,
        30,
        0,
        '<path d="M0 15C0 2 13 2 13 15S26 28 26 15"/>'
        '<path d="M0 15C0 28 13 28 13 15S26 2 26 15" stroke-width=".5"/>',
    ),
    "plaster": (
        22,
        22,
        0,
        '<path d="M3 4h.1M18 8h.1M15 16h.1M10 20h.1" stroke-width="1.9"/>'
        '<path d="M12 2h.1M7 12h.1M3 19h.1M20 20h.1M9 7h.1" stroke-width="1.3"/>',
    ),
    # Rigid foam is crossed, so that nobody takes it for the loops of a batt.
    "foam": (12, 12, 0, '<path d="M0 0l12 12M12 0L0 12" stroke-width=".5"/>'),
    "gravel": (
        26,
        18,
        0,
        '<path d="M3 5q3-4 6-1t-1 4-5-3zM16 4q4-3 6 1t-3 3-3-4zM9 14q3-4 6-1t-2 4-4-3z"'
        ' stroke-width=".8"/><path d="M12 5h.1M3 14h.1M19 12h.1" stroke-width="1.3"/>',
    ),
    "earth": (
        30,
        24,
        0,
        '<path d="M1 11L10 2M5 13L14 4M9 15l9-9M16 14l9 9M20 10l9 9M24 6l5 5" stroke-width=".7"/>',
    ),
    "tile": (
        40,
        10,
        0,
        '<path d="M2 0v10" stroke-width="1.1"/>'
        '<path d="M5 10L15 0M13 10L23 0M21 10L31 0M29 10L39 0" stroke-width=".5"/>',
    ),
    "rubber": (4, 4, 45, '<path d="M0 1h4M0 3h4M1 0v4" stroke-width=".8"/>'),
    "steel": (7, 7, 45, '<path d="M1 0v7M3 0v7" stroke-width=".8"/>'),
    "laminated": (60, 12, 0, '<path d="M0 2h60M0 5h60M0 8h60M0 11h60" stroke-width=".6"/>'),
    "glass": (34, 26, 30, '<path d="M4 0v11M8 3v13M25 9v10" stroke-width=".8"/>'),
    "stone": (
        30,
        20,
        0,
        '<path d="M0 10h30M0 0h30M8 0v10M23 10v10" stroke-width=".8"/>'
        '<path d="M13 7l4-4M3 18l4-4" stroke-width=".5"/>',
    ),
    "membrane": (12, 6, 0, '<path d="M0 3h7" stroke-width="2.2"/>'),
    "zinc": (24, 11, 0, '<path d="M0 10L24 5v5M0 10v-3" stroke-width=".9"/>'),
    "shingle": (
        22,
        12,
        0,
        '<path d="M0 11.5h22M0 11.5v-9L22 11M8 12v-5M18 12v-2" stroke-width=".7"/>',
    ),
    "concrete": (
        34,
        28,
        0,
        '<path d="M5 6l5-3 1 5zM22 18l6-2-1 6z" stroke-width=".8"/>'
        '<path d="M18 5h.1M29 9h.1M9 16h.1M14 24h.1M3 25h.1" stroke-width="1.6"/>',
    ),
}

# Words that a layer's material may hold, first match wins, so the particular stands first.
_WORDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("glass", ("laminated glass", "glass pane")),
    ("wire", ("wire", "wiring", "cable", "conduit", "light channel", "led")),
    ("lath", ("lath", "mesh")),
    ("ply", ("ply", "plywood", "osb", "sheathing")),
    ("laminated", ("laminated", "lvl", "glulam", "psl", "blocking")),
    ("zinc", ("zinc", "copper", "flashing", "sheet metal")),
    ("shingle", ("shingle", "shake")),
    ("concrete", ("concrete", "grout", "screed", "mortar bed")),
    ("plaster", ("plaster", "lime", "stucco", "base coat", "scratch", "brown coat", "finish coat")),
    ("board", ("board", "gypsum", "drywall", "gyp")),
    ("foam", ("foam", "polystyrene", "polyiso", "xps", "eps")),
    ("batt", ("batt", "insulation", "wool", "cellulose")),
    ("membrane", ("membrane", "retarder", "underlay", "paper", "felt", "wrap", "vent mat")),
    ("glass", ("glass", "lens", "glazing", "acrylic")),
    ("tile", ("tile", "porcelain", "ceramic")),
    ("stone", ("stone", "slate", "marble", "granite", "brick")),
    ("steel", ("steel", "stand-off", "standoff", "rod", "plate", "metal", "bolt", "stainless",
               "aluminum", "aluminium", "brass", "iron", "shoe", "bronze")),
    ("rubber", ("rubber", "neoprene", "nylon", "gasket", "silicone", "sealant")),
    ("gravel", ("gravel", "crushed rock", "ballast")),
    ("earth", ("soil", "subgrade", "compacted earth")),
    ("air", ("air", "gap", "cavity", "reveal")),
    ("wood", ("wood", "stud", "ash", "oak", "maple", "walnut", "fir", "pine", "spruce", "cedar",
              "timber", "lumber", "joist", "stringer", "batten", "tread", "rail", "framing")),
)  # fmt: skip

_ROPE_LAY = (
    '<pattern id="r-lay" width="6" height="8" patternUnits="userSpaceOnUse">'
    '<path d="M0 7.5Q3 6.5 6 1.5" fill="none" stroke="currentColor" stroke-width="1.2"/></pattern>'
)
_NOTE_HATCHES = (
    '<pattern id="n-lost" width="4" height="4" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(45)"><path d="M1 0v4" class="s-red" stroke-width="1.7"/></pattern>'
    '<pattern id="n-way" width="7" height="7" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(45)"><path d="M1 0v7" class="s-ochre" stroke-width="1.3"/></pattern>'
)


def hatch_of(material: str) -> str:
    """The hatch that a material is drawn with: a key of its own, a trade word in it, or "plain".

    >>> hatch_of("lime plaster"), hatch_of("ash"), hatch_of("fog")
    ('plaster', 'wood', 'plain')
    """
    text = material.casefold()
    if text in _TILES or text in ("wire", "air"):
        return text
    words = text.replace(",", " ").replace("/", " ").split()
    for key, known in _WORDS:
        for word in known:
            if (word in text) if len(word) > 4 or " " in word else _has_word(word, words):
                return key
    return "plain"


def hatch_defs(materials: Iterable[str] | None = None) -> Markup:
    """All patterns that drawings refer to, for once per page; given materials, only theirs."""
    keys = _TILES.keys() if materials is None else sorted({hatch_of(name) for name in materials})
    tiles = "".join(_pattern(key) for key in keys if key in _TILES)
    return Markup(
        '<svg class="defs" width="0" height="0" aria-hidden="true" focusable="false"><defs>'
        f"{tiles}{_ROPE_LAY}{_NOTE_HATCHES}</defs></svg>"
    )


def fill_of(material: str) -> str | None:
    """The fill attribute of a material's hatch; None where it is left white."""
    key = hatch_of(material)
    return f"url(#h-{key})" if key in _TILES else None


def _has_word(word: str, words: list[str]) -> bool:
    """Short words count only whole or as a plural: "ash" is wood, "flashing" is not."""
    return word in words or f"{word}s" in words


def _pattern(key: str) -> str:
    width, height, turn, inked = _TILES[key]
    turned = f' patternTransform="rotate({turn})"' if turn else ""
    return (
        f'<pattern id="h-{key}" width="{width:g}" height="{height:g}"'
        f' patternUnits="userSpaceOnUse"{turned}>'
        f'<g fill="none" stroke="currentColor" stroke-linecap="round">{inked}</g></pattern>'
    )
