"""The strokes of a finish line: the string, the chalk line, and the hatch between them."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from markupsafe import Markup

from server.drawing.finish_scale import Piece, Scale
from server.drawing.svg import element, number, path

_HATCH = Markup(
    '<pattern id="fl-late" width="7" height="7" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(32)"><path d="M1 0v7" class="s-ochre" stroke-width="1.4"/></pattern>'
)


def strokes(scale: Scale) -> Iterable[Markup]:
    """The hatch, the chalk line over it, and the string over both."""
    hatched = "".join(_late(piece) for piece in scale.pieces)
    if hatched:
        yield _HATCH + path(hatched, fill="url(#fl-late)")
    if len(scale.evenings) == 1:
        last = scale.pieces[-1]
        if last.late:
            yield path(_chalk(scale.pieces), class_="fl-dust")
        yield element("circle", cx=last.right, cy=last.end, r=4, class_="fl-dot")
    else:
        chalk = _chalk(scale.pieces)
        yield path(chalk, class_="fl-dust") + path(chalk, class_="fl-chalk")
    string = _string(scale)
    if string:
        yield path(string, class_="fl-string")


def _chalk(pieces: Sequence[Piece]) -> str:
    d = [f"M{number(pieces[0].x)} {number(pieces[0].y)}"]
    for piece in pieces:
        level = piece.y == piece.end
        if level and d[-1].startswith("H"):
            d.pop()
        d.append(f"H{number(piece.right)}" if level else _to(piece.right, piece.end))
    return "".join(d)


def _string(scale: Scale) -> str:
    """The nail, and from it the string: level, with a short vertical where it is set anew."""
    strung = [piece for piece in scale.pieces if piece.string is not None]
    if not strung:
        return ""
    x, y = number(strung[0].x), strung[0].string or 0.0
    d = f"M{number(strung[0].x - 3)} {number(y - 6)}h6m-3 0v10M{x} {number(y)}"
    for before, now in pairwise(strung):
        if before.string != now.string:
            d += f"H{number(now.x)}V{number(now.string or 0.0)}"
    return f"{d}H{number(strung[-1].right)}"


def _late(piece: Piece) -> str:
    """The area between string and forecast where that is lower."""
    if not piece.late or piece.string is None or max(piece.y, piece.end) <= piece.string:
        return ""
    corners = [(piece.x, piece.string), (piece.right, piece.string)]
    for (x, y), other in (((piece.right, piece.end), piece.y), ((piece.x, piece.y), piece.end)):
        if y >= piece.string:
            corners.append((x, y))
        else:  # the forecast crosses the string on its way: the area ends there
            share = (piece.string - y) / (other - y)
            away = (piece.right - piece.x) * share * (1 if x == piece.x else -1)
            corners[0 if x == piece.x else 1] = (x + away, piece.string)
    (x, y), *others = corners
    return f"M{number(x)} {number(y)}" + "".join(_to(*corner) for corner in others) + "Z"


def _to(x: float, y: float) -> str:
    return f"L{number(x)} {number(y)}"
