"""Finish lines to draw, and what stands where in one that is drawn."""

import re
from datetime import date, timedelta
from xml.etree import ElementTree

from server.drawing.finish_line import Kept, Labels, Promised, SlipMark, finish_line
from server.drawing.svg import Box
from server.drawing.text import width_of

FIRST = date(2025, 11, 3)
FINISH = date(2025, 12, 19)
SIZE = 12.5


def day(no: int) -> date:
    return FIRST + timedelta(no)


def finish(later: int) -> date:
    return FINISH + timedelta(later)


def words(title: str = "Finish, day by day", promised: str = "promised") -> Labels:
    def short(one: date) -> str:
        return f"{one:%b} {one.day}"

    return Labels(title, promised, "forecast", short, lambda one: f"{one:%a} {short(one)}")


def kept(*later: int) -> list[Kept]:
    """The forecasts of consecutive evenings, in days after the finish that is promised first."""
    return [Kept(day(no), finish(days)) for no, days in enumerate(later)]


PROMISED = [Promised(FIRST, FINISH)]


def drawn(
    evenings: list[Kept],
    promised: list[Promised] | None = None,
    slips: list[SlipMark] | None = None,
    labels: Labels | None = None,
) -> ElementTree.Element:
    svg = finish_line(
        evenings, PROMISED if promised is None else promised, slips or [], labels or words()
    )
    return ElementTree.fromstring(svg)


def inked(svg: ElementTree.Element, kind: str) -> list[tuple[float, float]]:
    """The corners of the path of a class, or of the hatch."""
    for one in svg.iter("path"):
        if kind in (one.get("class"), one.get("fill")):
            return corners(one.get("d") or "")
    return []


def corners(d: str) -> list[tuple[float, float]]:
    x = y = 0.0
    found = []
    for letter, values in re.findall(r"([MLHVhvm])([-\d. ]*)", d):
        numbers = [float(one) for one in values.split()]
        if letter in "ML":
            x, y = numbers
        elif letter == "m":
            x, y = x + numbers[0], y + numbers[1]
        elif letter in "Hh":
            x = numbers[0] + (x if letter == "h" else 0)
        else:
            y = numbers[0] + (y if letter == "v" else 0)
        found.append((x, y))
    return found


def string_level(svg: ElementTree.Element) -> float:
    return inked(svg, "fl-string")[-1][1]


def texts(svg: ElementTree.Element) -> list[str]:
    return [one.text or "" for one in svg.iter("text")]


def boxes(svg: ElementTree.Element) -> list[Box]:
    """The words where they stand, as wide as a wide font makes them, without the gaps of a line."""
    found = []
    for group in (svg, *svg.iter("g")):
        for one in group.findall("text"):
            bold = group.get("class") == "fl-no" or one.get("class") == "fl-now"
            wide = float(one.get("textLength") or width_of(one.text or "", SIZE, bold=bold))
            left = float(one.get("x") or 0)
            left -= wide / 2 if group.get("text-anchor") == "middle" else 0
            found.append(Box(left, float(one.get("y") or 0) - 10, wide, 12))
    return found
