"""The chart of readings: each where it belongs, limits hatched on their far side, words apart."""

from datetime import date, datetime, timedelta
from fractions import Fraction
from itertools import combinations
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.drawing.finish_scale import LINE, WIDTH, wide_of
from server.drawing.reading_chart import DAYS, ChartWords, Taken, Wanted, reading_chart
from server.drawing.svg import Box
from server.resource import resource

LAST = date(2025, 12, 3)
MORNING = datetime(2025, 12, 3, 7, 40)
BAND = Wanted(Fraction(50), Fraction(80))
OPEN = Wanted(None, None)


def words() -> ChartWords:
    def short(one: date) -> str:
        return f"{one:%b} {one.day}"

    return ChartWords(
        "Air of the stair",
        lambda value: f"{float(value):g}°F",
        lambda value: f"at least {float(value):g}°F",
        lambda value: f"at most {float(value):g}°F",
        short,
    )


def taken(*readings: tuple[float, int]) -> list[Taken]:
    """Readings of some mornings: (days before the last, value)."""
    return [Taken(MORNING - timedelta(days=back), Fraction(value)) for back, value in readings]


def drawn(readings: list[Taken], wanted: Wanted = BAND) -> ElementTree.Element:
    return ElementTree.fromstring(reading_chart(readings, wanted, LAST, words()))


def d_of(svg: ElementTree.Element, kind: str) -> str:
    return next((p.get("d") or "" for p in svg.iter("path") if kind in (p.get("class") or "")), "")


def rings(svg: ElementTree.Element) -> list[tuple[float, float]]:
    return [(float(c.get("cx", "")), float(c.get("cy", ""))) for c in svg.iter("circle")]


def corners(svg: ElementTree.Element) -> list[tuple[float, float]]:
    """Where the readings stand."""
    pairs = (pair.split() for pair in d_of(svg, "rc-line").lstrip("M").split("L"))
    return [(float(x), float(y)) for x, y in pairs]


def limits(svg: ElementTree.Element) -> list[float]:
    """The heights of the limits."""
    lines = [p.get("d") or "" for p in svg.iter("path") if p.get("class") == "fl-string"]
    return [float(d.split()[1].partition("H")[0]) for d in lines]


def said(svg: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in svg.iter("text")]


def boxes(svg: ElementTree.Element) -> list[Box]:
    """What each text takes, without the air above and under its letters."""
    middle = {text for g in svg.iter("g") if g.get("text-anchor") for text in g.iter("text")}
    found = []
    for text in svg.iter("text"):
        wide = wide_of(text.text or "", bold=text.get("class") == "fl-now")
        x = float(text.get("x", "")) - (wide / 2 if text in middle else 0)
        found.append(Box(x, float(text.get("y", "")) - 9, wide, 9))
    return found


def test_where_nothing_was_read_in_two_weeks_nothing_is_drawn() -> None:
    assert reading_chart([], BAND, LAST, words()) == ""
    assert reading_chart(taken((DAYS, 60), (-1, 60)), BAND, LAST, words()) == ""


def test_the_first_of_the_days_and_the_last_are_drawn() -> None:
    assert len(corners(drawn(taken((DAYS - 1, 60), (0, 62))))) == 2


def test_later_readings_stand_to_the_right_and_higher_ones_higher() -> None:
    (first, low), (second, high), (third, _) = corners(drawn(taken((0, 70), (9, 52), (4, 60))))
    assert first < second < third
    assert low > high


def test_a_day_is_as_wide_wherever_it_lies() -> None:
    xs = [x for x, _ in corners(drawn(taken((12, 60), (8, 60), (4, 60), (0, 60))))]
    assert xs[1] - xs[0] == pytest.approx(xs[3] - xs[2], abs=0.2)


def test_a_reading_beyond_a_limit_is_a_ring_and_no_tick() -> None:
    svg = drawn(taken((9, 49), (6, 50), (3, 80), (0, 81)))
    assert len(rings(svg)) == 2
    assert d_of(svg, "rc-in").count("v") == 2


def test_a_limit_is_hatched_on_the_side_where_nothing_is_wanted() -> None:
    svg = drawn(taken((9, 60), (0, 62)))
    most, least = limits(svg)
    assert most < least
    hatches = [p.get("d") or "" for p in svg.iter("path") if "rc-edge" in (p.get("class") or "")]
    assert ["l-7 -7" in d for d in hatches] == [True, False]
    assert ["l-7 7" in d for d in hatches] == [False, True]


@pytest.mark.parametrize(
    ("wanted", "count"), [(OPEN, 0), (Wanted(Fraction(50), None), 1), (BAND, 2)]
)
def test_only_the_limits_there_are_are_drawn(wanted: Wanted, count: int) -> None:
    assert len(limits(drawn(taken((3, 60), (0, 62)), wanted))) == count


def test_the_newest_reading_and_the_limits_are_written_beside_it() -> None:
    texts = said(drawn(taken((3, 60), (0, 62))))
    assert {"62°F", "at least 50°F", "at most 80°F"} <= set(texts)


def test_the_reading_farthest_out_is_written_at_its_ring() -> None:
    svg = drawn(taken((9, 48), (6, 44), (0, 62)))
    assert "44°F" in said(svg)
    assert "48°F" not in said(svg)
    assert said(drawn(taken((9, 44), (6, 56), (0, 44)))).count("44°F") == 1


def test_its_title_says_the_whole_and_its_axis_the_days() -> None:
    svg = drawn(taken((3, 60)))
    assert svg.findtext("title") == "Air of the stair"
    assert said(svg)[-3:] == ["Nov 20", "Nov 27", "Dec 3"]


def test_one_reading_alone_is_drawn() -> None:
    assert len(corners(drawn(taken((3, 60)), OPEN))) == 1


@settings(max_examples=80)
@given(
    st.lists(st.tuples(st.floats(0, 13), st.integers(-20, 120)), min_size=1, max_size=20),
    st.sampled_from([OPEN, BAND, Wanted(Fraction(50), None), Wanted(Fraction(50), Fraction(50))]),
)
def test_words_never_touch_and_nothing_leaves_the_drawing(
    readings: list[tuple[float, int]], wanted: Wanted
) -> None:
    svg = drawn(taken(*readings), wanted)
    words_at = boxes(svg)
    assert not any(a.touches(b) for a, b in combinations(words_at, 2))
    _, top, wide, high = (float(edge) for edge in (svg.get("viewBox") or "").split())
    assert wide == WIDTH
    inside = Box(0, top, WIDTH, high)
    for box in words_at:
        assert box.x >= 0
        assert box.right <= WIDTH + 0.5
        assert inside.y <= box.y
        assert box.bottom <= inside.bottom
    for x, y in corners(svg):
        assert 0 <= x <= WIDTH
        assert top <= y <= inside.bottom - LINE


def test_in_a_browser_its_words_are_readable_at_320(browser: Any) -> None:
    css = "".join(
        resource("static", "css", name).read_text(encoding="utf-8")
        for name in ("site.css", "drawing.css")
    )
    page = browser.new_page(viewport={"width": 320, "height": 700})
    svg = reading_chart(taken((9, 44), (4, 60), (0, 62)), BAND, LAST, words())
    page.set_content(f"<meta charset=utf-8><style>{css}</style><main>{svg}</main>")
    found = page.evaluate(
        """() => ({
            frame: document.querySelector('svg.fl').getBoundingClientRect().toJSON(),
            lines: [...document.querySelectorAll('.fl text')].map(
                text => text.getBoundingClientRect().toJSON()),
        })"""
    )
    page.close()
    frame = found["frame"]
    assert len(found["lines"]) == 7
    assert all(
        frame["left"] <= line["left"] and line["right"] <= frame["right"] for line in found["lines"]
    )
    assert all(line["height"] >= 12 for line in found["lines"])
