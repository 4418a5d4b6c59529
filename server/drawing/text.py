"""How wide a text may become, and where it breaks.

A drawing is made on the server, where the reader's font is unknown. Widths are therefore those of
a wide system font (DejaVu Sans, in thousandths of the size); narrower fonts leave room.
"""

import re
import unicodedata

_WIDTHS = {
    "ijl'": 0.28,
    "IJ ,.": 0.32,
    "|/\\:;f-\u00b7": 0.37,
    "t()[]": 0.40,
    "r!": 0.42,
    '"': 0.46,
    "sz?*_`": 0.54,
    "cLF": 0.58,
    "kvxyY": 0.61,
    "mM%@W+=<>~^#": 1.00,
    "w": 0.82,
    "OQGNHDU&": 0.79,
    "ABCEKPRSTVXZ": 0.70,
}
_OF_CHARACTER = {char: width for chars, width in _WIDTHS.items() for char in chars}
_BREAKS = re.compile(r"[ \t\r\n]+")  # a no-break space does not break
_USUAL = 0.64  # most small letters, and the figures
_WIDE = 1.02
_BOLDER = 0.09


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """An upper estimate of the drawn width, in the units of `size`."""
    return size * sum(_advance(char) + (_BOLDER if bold else 0) for char in text)


def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than `width`; a word that is too long is broken.

    >>> wrapped("Studs and blocking", 100, 14)
    ('Studs and', 'blocking')
    """
    lines: list[str] = []
    line = ""
    for word in _BREAKS.split(text.strip()):
        longer = f"{line} {word}" if line else word
        if width_of(longer, size, bold=bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        *full, line = _broken(word, width, size, bold)
        lines.extend(full)
    return (*lines, line) if line else tuple(lines)


def _broken(word: str, width: float, size: float, bold: bool) -> list[str]:
    """A word in pieces that fit, never parting a letter from its marks."""
    pieces = [""]
    for cluster in _clusters(word):
        if pieces[-1] and width_of(pieces[-1] + cluster, size, bold=bold) > width:
            pieces.append("")
        pieces[-1] += cluster
    return pieces


def _clusters(word: str) -> list[str]:
    clusters: list[str] = []
    for char in word:
        joins = unicodedata.category(char) in ("Mn", "Mc", "Me", "Cf")
        if clusters and (joins or clusters[-1].endswith("\u200d")):
            clusters[-1] += char
        else:
            clusters.append(char)
    return clusters


def _advance(char: str) -> float:
    known = _OF_CHARACTER.get(char)
    if known is not None:
        return known
    if unicodedata.category(char) in ("Mn", "Me", "Cf"):
        return 0.0
    if unicodedata.east_asian_width(char) in ("W", "F"):
        return _WIDE
    return _USUAL if char.isascii() else 0.80
