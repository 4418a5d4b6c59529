"""The stack as bars: to scale one after the other; tolerances and the gap at their own scales."""

import re
from xml.etree import ElementTree

import pytest

from server.core.figures.stack import PartOfGap, Stack, StackFigure, stacked
from server.drawing.finish_scale import WIDTH
from server.drawing.stack_bars import StackWords, stack_bars
from tests.core.figures.stacks import in_a_housing, measured, part

NUMBER = re.compile(r"-?\d+\.?\d*")


def words(**more: str) -> StackWords:
    def tolerance(one: PartOfGap) -> str:
        return "measured" if one.part.measured is not None else f"±{one.part.plus:g}"

    facts = {
        "title": "A stack",
        "gap": "gap",
        "wanted": "wanted",
        "worst": "worst case",
        "rss": "root sum square",
        "before": "before measuring",
        "touching": "touching",
        **more,
    }
    return StackWords(part=lambda one: f"{one.gives:+g}", tolerance=tolerance, **facts)


def drawn(figure: StackFigure, **more: str) -> ElementTree.Element:
    return ElementTree.fromstring(stack_bars(figure, words(**more)))


def said(svg: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in svg.iter("text")]


def paths(svg: ElementTree.Element, kind: str) -> list[str]:
    return [p.get("d") or "" for p in svg.iter("path") if kind in (p.get("class") or "").split()]


def bars(svg: ElementTree.Element) -> list[tuple[float, float]]:
    """From where to where each bar runs."""
    found = []
    for d in paths(svg, "sb-bar"):
        start, tip = re.match(r"M(\S+) \S+H\S+L(\S+) ", d).groups()  # type: ignore[union-attr]
        found.append((float(start), float(tip)))
    return found


def reach(d: str) -> tuple[float, float]:
    """From where to where a line with two uprights runs."""
    left, right = re.match(r"M(\S+) \S+M(\S+) ", d).groups()  # type: ignore[union-attr]
    return float(left), float(right)


def test_each_bar_begins_where_the_one_before_ends() -> None:
    found = bars(drawn(stacked(in_a_housing())))
    assert len(found) == 4
    assert [end for _, end in found[:-1]] == [start for start, _ in found[1:]]


def test_bars_are_to_scale_and_run_back_where_a_part_takes_away() -> None:
    housing, block, ring, washer = [
        end - start for start, end in bars(drawn(stacked(in_a_housing())))
    ]
    assert housing > 0 > block
    assert -block / housing == pytest.approx(2 / 4.02, abs=0.01)
    assert ring / block == pytest.approx(0.75, abs=0.01)
    assert washer / block == pytest.approx(0.25, abs=0.02)


def test_tolerances_share_one_scale() -> None:
    svg = drawn(stacked(in_a_housing()), wanted="")
    wide = [right - left for left, right in map(reach, paths(svg, "sb-does"))]
    assert wide[1] / wide[0] == pytest.approx(1, abs=0.02)
    assert wide[3] / wide[0] == pytest.approx(0.4, abs=0.02)


def test_a_measured_part_is_a_dot() -> None:
    svg = drawn(stacked(measured(in_a_housing(), 0, 4.02)))
    assert len(list(svg.iter("circle"))) == 1
    assert "measured" in said(svg)


def test_what_was_predicted_before_measuring_stays_beside_what_is_now() -> None:
    assert "before measuring" not in said(drawn(stacked(in_a_housing())))
    assert "before measuring" in said(drawn(stacked(measured(in_a_housing(), 0, 4.02))))


def test_the_worst_case_leaves_the_wanted_range_just_where_it_does() -> None:
    svg = drawn(stacked(in_a_housing(least=0.005, most=0.03)))
    least, most = (float(d[1:].split()[0]) for d in paths(svg, "sb-wanted"))
    low, high = reach(next(d for d in paths(svg, "fg-ink") if "M" in d[1:]))
    assert low == pytest.approx(least, abs=0.2)
    assert high > most


def test_without_a_wanted_range_no_edge_is_drawn() -> None:
    svg = drawn(stacked(in_a_housing()), wanted="")
    assert not paths(svg, "sb-wanted")


@pytest.mark.parametrize(
    "stack",
    [
        Stack(parts=(part(0, 0),)),
        Stack(parts=(part(5, 0), part(5, 0, -1))),
        Stack(parts=(part(1, 0.1, -1),), least=-2, most=3),
        in_a_housing(least=0.01),
        in_a_housing(most=100),
        Stack(parts=(part(40, 0.5, name="Stud wall of the stair to stud wall of the hall " * 3),)),
    ],
)
def test_every_stack_is_drawn_within_its_edges(stack: Stack) -> None:
    svg = drawn(stacked(stack))
    wide, high = (float(edge) for edge in (svg.get("viewBox") or "").split()[2:])
    assert wide == WIDTH
    for text in svg.iter("text"):
        assert 0 <= float(text.get("x", "-1")) <= WIDTH
        assert 0 <= float(text.get("y", "-1")) <= high
    for d in paths(svg, "fg-ink") + paths(svg, "sb-bar"):
        assert all(-1 <= float(n) <= max(wide, high) for n in NUMBER.findall(d.split("l")[0]))


def test_a_name_with_markup_is_drawn_as_it_is() -> None:
    svg = drawn(stacked(Stack(parts=(part(1, 0.1, name="<b>&"),))))
    assert any("<b>&" in text for text in said(svg))


def test_what_is_said_of_a_range_is_said_whole() -> None:
    long = "Before measuring: 1 33/64 in to 1 63/64 in"
    svg = drawn(stacked(measured(in_a_housing(), 0, 4.02)), before=long)
    assert long in " ".join(said(svg))
