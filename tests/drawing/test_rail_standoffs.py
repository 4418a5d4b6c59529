"""The rail on its wall, to scale: stand-offs where they belong, blocks behind them."""

import re
from typing import Any
from xml.etree import ElementTree

import pytest

from server.core.figures.standoffs import StandOffFigure, stand_offs
from server.core.figures.studs import On, Studs
from server.drawing.rail_standoffs import WIDTH, RailWords, rail_standoffs
from tests.core.figures.stacks import a_rail

WORDS = RailWords("A rail", "36 in", "29 5/16 in")


def placed(**more: Any) -> tuple[StandOffFigure, ElementTree.Element]:
    figure = stand_offs(a_rail(**more))
    return figure, ElementTree.fromstring(rail_standoffs(figure, WORDS))


def rods(svg: ElementTree.Element) -> list[tuple[float, float]]:
    return [(float(c.get("cx", "")), float(c.get("cy", ""))) for c in svg.iter("circle")]


def blocks(svg: ElementTree.Element) -> list[tuple[float, float, float, float]]:
    """Left, top, right, bottom of each block."""
    found = []
    for rect in svg.iter("rect"):
        if rect.get("class") == "rs-block":
            x, y, w, h = (float(rect.get(name, "")) for name in ("x", "y", "width", "height"))
            found.append((x, y, x + w, y + h))
    return found


def of_kind(svg: ElementTree.Element, kind: str) -> str:
    return next(p.get("d") or "" for p in svg.iter("path") if kind in (p.get("class") or ""))


def scale_of(figure: StandOffFigure, svg: ElementTree.Element) -> float:
    """Units to the inch, read off the first and the last rod."""
    found = rods(svg)
    inches = figure.stand_offs[-1].along_floor - figure.stand_offs[0].along_floor
    return (found[-1][0] - found[0][0]) / inches


def test_rods_stand_to_scale_along_and_above() -> None:
    figure, svg = placed()
    scale, found = scale_of(figure, svg), rods(svg)
    assert len(found) == 6
    for one, (x, y) in zip(figure.stand_offs, found, strict=True):
        first = figure.stand_offs[0]
        assert (x - found[0][0]) / scale == pytest.approx(
            one.along_floor - first.along_floor, abs=0.1
        )
        assert (found[0][1] - y) / scale == pytest.approx(
            one.above_floor - first.above_floor, abs=0.1
        )


def test_stand_offs_are_numbered_from_the_bottom() -> None:
    _, svg = placed()
    numbers = [text.text for text in svg.iter("text") if text.get("class") == "rs-no"]
    assert numbers == ["1", "2", "3", "4", "5", "6"]


def test_each_block_lies_behind_its_rod_as_high_as_the_band() -> None:
    figure, svg = placed()
    scale = scale_of(figure, svg)
    bays = [one for one in figure.stand_offs if one.place.on is On.BAY]
    at = dict(zip((one.no for one in figure.stand_offs), rods(svg), strict=True))
    for one, (left, top, right, bottom) in zip(bays, blocks(svg), strict=True):
        x, y = at[one.no]
        assert left < x < right
        assert (top + bottom) / 2 == pytest.approx(y, abs=0.2)
        assert (bottom - top) / scale == pytest.approx(one.band_high - one.band_low, abs=0.1)
        assert (right - left) / scale == pytest.approx(14.5, abs=0.2)


def test_a_rod_on_a_stud_wants_no_block() -> None:
    figure, svg = placed(studs=Studs(spacing=16, first=6.4))
    on = [one for one in figure.stand_offs if one.place.on is On.STUD]
    assert on
    assert len(blocks(svg)) == len(figure.stand_offs) - len(on)


def test_the_height_is_drawn_plumb_and_to_scale() -> None:
    figure, svg = placed()
    low, high = re.match(r"M\S+ (\S+)V(\S+?)M", of_kind(svg, "rs-height")).groups()  # type: ignore[union-attr]
    assert (float(low) - float(high)) / scale_of(figure, svg) == pytest.approx(36, abs=0.2)


@pytest.mark.parametrize(
    "facts",
    [
        {},
        {"treads": 1, "first": 2, "last": 2},
        {"treads": 1, "first": 6.25, "last": 6.25},
        {"treads": 30, "most": 12},
        {"past_bottom": 40, "past_top": 40},
        {"past_bottom": -8, "past_top": -8},
        {"studs": Studs(spacing=4, first=-100)},
        {"rise": 40, "tread": 2},
        {"floor": 3},
    ],
)
def test_every_rail_is_drawn_within_its_edges(facts: dict[str, Any]) -> None:
    figure, svg = placed(**facts)
    wide, high = (float(edge) for edge in (svg.get("viewBox") or "").split()[2:])
    assert wide == WIDTH
    for x, y in rods(svg):
        assert 0 <= x <= wide
        assert 0 <= y <= high
    for left, top, right, bottom in blocks(svg):
        assert left >= -0.1
        assert right <= wide + 0.1
        assert left < right
        assert top < bottom <= high
    assert len(rods(svg)) == len(figure.stand_offs)
