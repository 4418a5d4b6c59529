"""The joint through the year drawn: the edge where each month puts it, limits, what is beyond."""

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.drawing.finish_scale import WIDTH
from server.drawing.joint_year import JointDrawn, JointWords, joint_year

YEAR = (0.18, 0.17, 0.16, 0.14, 0.12, 0.09, 0.08, 0.08, 0.10, 0.13, 0.15, 0.17)
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def drawn(
    widths: tuple[float, ...] = YEAR, least: float = 1 / 16, most: float = 3 / 16
) -> ElementTree.Element:
    words = JointWords(
        title="Joint",
        desc="The joint through the year",
        months=MONTHS,
        width=lambda width: f"{width:.3f} in",
        least="at least 1/16 in",
        most="at most 3/16 in",
        fitted="fitted at 1/8 in",
    )
    return ElementTree.fromstring(joint_year(JointDrawn(widths, least, most, 0.125), words))


def edge(svg: ElementTree.Element) -> list[tuple[float, float]]:
    """The wood's edge, without the turns of the year at its ends."""
    d = next(p.get("d") or "" for p in svg.iter("path") if "jy-edge" in (p.get("class") or ""))
    corners = [pair.split() for pair in d.lstrip("M").split("L")]
    return [(float(x), float(y)) for x, y in corners][1:-1]


def rings(svg: ElementTree.Element) -> list[float]:
    return [float(ring.get("cy", "")) for ring in svg.iter("circle")]


def test_the_twelve_months_stand_under_each_other_as_far_apart() -> None:
    ys = [y for _, y in edge(drawn())]
    assert len(ys) == 12
    apart = [later - before for before, later in pairwise(ys)]
    assert max(apart) - min(apart) < 0.2


def test_a_wider_joint_has_the_woods_edge_farther_left_to_one_scale() -> None:
    xs = [x for x, _ in edge(drawn())]
    face = xs[0] + (xs[6] - xs[0]) * YEAR[0] / (YEAR[0] - YEAR[6])
    for x, width in zip(xs, YEAR, strict=True):
        assert (face - x) / (face - xs[0]) == pytest.approx(width / YEAR[0], abs=0.01)


def test_only_a_month_beyond_a_limit_has_a_ring() -> None:
    assert rings(drawn()) == []
    beyond = drawn((0.2, *YEAR[1:6], 0.05, *YEAR[7:]))
    ys = [y for _, y in edge(beyond)]
    assert rings(beyond) == [pytest.approx(ys[0], abs=0.1), pytest.approx(ys[6], abs=0.1)]


def test_a_month_just_at_its_limit_has_none() -> None:
    assert rings(drawn((0.1875, *YEAR[1:6], 0.0625, *YEAR[7:]))) == []


def test_every_month_and_its_width_and_the_limits_are_said() -> None:
    said = [text.text for text in drawn().iter("text")]
    assert set(MONTHS) <= set(said)
    assert {"0.180 in", "0.080 in", "at least 1/16 in", "fitted at 1/8 in"} <= set(said)


@given(st.lists(st.floats(-0.2, 3), min_size=12, max_size=12))
def test_whatever_the_year_nothing_stands_outside_of_the_drawing(widths: list[float]) -> None:
    assert all(0 <= x <= WIDTH for x, _ in edge(drawn(tuple(widths))))
