"""What a real browser makes of a drawing: fonts are measured there, not estimated."""

from itertools import combinations
from typing import Any

import pytest

from server.drawing.buildup import build_up_svg
from server.drawing.rope import RopeRow, rope_marks
from server.drawing.svg import Box
from server.resource import resource
from tests.drawing.sides import fourteen_long_layers

CSS = "".join(
    resource("static", "css", name).read_text(encoding="utf-8")
    for name in ("site.css", "drawing.css")
)


def shown(browser: Any, body: str, width: int) -> Any:
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.set_content(f"<meta charset=utf-8><style>{CSS}</style><main>{body}</main>")
    return page


@pytest.mark.parametrize("width", [320, 390])
def test_fourteen_long_labels_are_neither_cut_nor_overlapping(browser: Any, width: int) -> None:
    svg = build_up_svg(fourteen_long_layers(), title="Wall side", desc="Fourteen layers")
    page = shown(browser, svg, width)
    found = page.evaluate(
        """() => ({
            frame: document.querySelector('svg.bu').getBoundingClientRect().toJSON(),
            size: parseFloat(getComputedStyle(document.querySelector('.bu text')).fontSize)
                * document.querySelector('svg.bu').getBoundingClientRect().width / 288,
            lines: [...document.querySelectorAll('.bu-label text')].map(
                text => text.getBoundingClientRect().toJSON()),
        })"""
    )
    page.close()
    frame = found["frame"]
    # A line box of the font is higher than its letters: a quarter less is what is inked.
    lines = [
        Box(at["left"], at["top"] + at["height"] / 8, at["width"], at["height"] * 0.75)
        for at in found["lines"]
    ]
    assert len(lines) > 14 * 3
    assert found["size"] >= 14
    assert all(frame["left"] <= line.x and line.right <= frame["right"] for line in lines)
    assert all(frame["top"] <= line.y and line.bottom <= frame["bottom"] for line in lines)
    assert not any(one.touches(other) for one, other in combinations(lines, 2))


def test_the_pieces_of_the_rope_meet_whatever_the_height_of_a_row(browser: Any) -> None:
    rows = [RopeRow("task", "done", True), RopeRow("hold", "marked", True), RopeRow("task", "next")]
    words = ("Short", "A long name " * 20, "Another " * 9)
    items = "".join(
        f"<li>{mark}<div><p><b>{word}</b></p></div></li>"
        for mark, word in zip(rope_marks(rows), words, strict=True)
    )
    page = shown(browser, f'<ol class="rope">{items}</ol>', 320)
    ends = page.evaluate(
        """() => [...document.querySelectorAll('.rp')].map(piece => {
            const at = piece.getBoundingClientRect(); return [at.top, at.bottom]; })"""
    )
    page.close()
    heights = {round(foot - top) for top, foot in ends}
    assert len(heights) == 3
    assert [foot for _, foot in ends[:-1]] == [top for top, _ in ends[1:]]
