"""The few SVG helpers that every drawing uses: elements, numbers, boxes."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup, escape

# Control characters are not allowed in XML, and a pasted name may hold one.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ufffe\uffff]")


@dataclass(frozen=True)
class Box:
    """A rectangle in drawing units; `y` grows downwards."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        return self.x + self.w

    @property
    def bottom(self) -> float:
        return self.y + self.h

    @property
    def mid(self) -> float:
        """The height of its middle line."""
        return self.y + self.h / 2

    def touches(self, other: "Box") -> bool:
        """Whether the two share a point, edges included."""
        return (
            self.x <= other.right
            and other.x <= self.right
            and self.y <= other.bottom
            and other.y <= self.bottom
        )

    def inset(self, by: float) -> "Box":
        """The same box, smaller by `by` on each side (a stroke is drawn on its middle)."""
        return Box(self.x + by, self.y + by, self.w - 2 * by, self.h - 2 * by)


def number(value: float) -> str:
    """A coordinate as short text, to a tenth of a unit: bytes matter on a phone."""
    short = f"{value:.1f}".rstrip("0").rstrip(".")
    return "0" if short == "-0" else short


def clean(text: str) -> str:
    """The text without the characters that XML does not allow."""
    return _CONTROL.sub("", text)


def element(name: str, *children: str, **attributes: str | float | None) -> Markup:
    """One element. Plain children are escaped; `class_` gives class, `font_size` font-size.

    >>> element("text", "Lath & plaster", x=4.0, class_="bu-name")
    Markup('<text x="4" class="bu-name">Lath &amp; plaster</text>')
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    inside = "".join(
        child if isinstance(child, Markup) else escape(clean(child)) for child in children
    )
    return Markup(f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>")


def rect(box: Box, **attributes: str | float | None) -> Markup:
    """A rectangle element at a box."""
    return element("rect", x=box.x, y=box.y, width=box.w, height=box.h, **attributes)


def path(d: str, **attributes: str | float | None) -> Markup:
    """A path element."""
    return element("path", d=d, **attributes)


def joined(parts: Iterable[Markup]) -> Markup:
    """Elements one after the other."""
    return Markup("").join(parts)


def _value(value: str | float) -> str:
    return number(value) if isinstance(value, (int, float)) else str(escape(clean(value)))
