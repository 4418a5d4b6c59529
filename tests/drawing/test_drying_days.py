"""The moisture of a wait drawn: the plan from wet to dry, readings, and the days of what cures."""

from itertools import combinations, pairwise
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from server.drawing.drying_days import WaitDrawn, WaitWords, drying_days
from server.drawing.finish_scale import LINE, WIDTH, wide_of
from server.drawing.svg import Box

MARKS = (("13", 13.0), ("18 days", 18.0), ("25", 25.0))


def line(days: float) -> tuple[tuple[float, float], ...]:
    return tuple((day * days / 10, 12 * (1 / 12) ** (day / 10)) for day in range(11))


PLAN = WaitDrawn(MARKS, planned=line(18), quick=line(13), slow=line(25), asked=1.0)
CURES = WaitDrawn((("7", 7.0), ("10 days", 10.0), ("14", 14.0)), damp=3.0)


def drawn(wait: WaitDrawn) -> ElementTree.Element:
    words = WaitWords(
        title="Wait",
        desc="The moisture of a wait",
        value=lambda value: f"{value:g}%",
        asked="dry at 1%",
        damp="kept damp 3 days",
        first_day="put on",
    )
    return ElementTree.fromstring(drying_days(wait, words))


def d_of(svg: ElementTree.Element, kind: str) -> str:
    return next((p.get("d") or "" for p in svg.iter("path") if kind in (p.get("class") or "")), "")


def said(svg: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in svg.iter("text")]


def test_the_plan_goes_down_from_day_to_day() -> None:
    corners = [pair.split() for pair in d_of(drawn(PLAN), "dd-plan").lstrip("M").split("L")]
    points = [(float(x), float(y)) for x, y in corners]
    assert len(points) == 11
    for (x, y), (later, lower) in pairwise(points):
        assert x < later
        assert y < lower


def test_each_reading_is_one_tick_and_the_newest_is_said() -> None:
    svg = drawn(WaitDrawn(MARKS, planned=line(18), readings=((2.0, 9.0), (5.0, 7.5)), asked=1.0))
    assert d_of(svg, "dd-read").count("v") == 2
    assert "7.5%" in said(svg)
    assert "9%" not in said(svg)


def test_without_a_reading_there_is_no_tick() -> None:
    assert d_of(drawn(PLAN), "dd-read") == ""


def test_what_cures_has_no_line_of_moisture_but_its_days_and_its_damp_time() -> None:
    svg = drawn(CURES)
    assert d_of(svg, "dd-plan") == ""
    assert {"kept damp 3 days", "7", "10 days", "14", "put on"} <= set(said(svg))
    assert "dry at 1%" not in said(svg)


@given(st.lists(st.floats(0.1, 60), min_size=3, max_size=3).map(sorted))
def test_the_days_never_touch_each_other_and_stand_within_the_drawing(days: list[float]) -> None:
    marks = tuple((f"{day:.1f} days", day) for day in days)
    svg = drawn(WaitDrawn(marks, planned=line(days[1]), asked=1.0))
    named = {f"{day:.1f} days" for day in days} | {"put on"}
    boxes = []
    for text in svg.iter("text"):
        if text.text in named:
            wide = wide_of(text.text or "")
            x, y = float(text.get("x", "")), float(text.get("y", ""))
            boxes.append(Box(x - wide / 2, y - LINE + 3, wide, LINE - 1))
    assert all(box.x >= 0 and box.right <= WIDTH for box in boxes)
    assert not any(one.touches(other) for one, other in combinations(boxes, 2))
