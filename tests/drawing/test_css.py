"""The style sheets: small, and readable in the sun. Contrast as WCAG 2 defines it."""

import gzip
import re

import pytest

from server.resource import resource

SHEETS = ("site.css", "drawing.css", "print.css")
GROUNDS = ("paper", "sheet", "wash", "red-wash")
WORDS = {
    "ink": GROUNDS,
    "soft": ("paper", "sheet"),
    "chalk": ("paper", "sheet"),
    "red-text": ("paper", "sheet", "red-wash"),
    "ochre-text": ("paper", "sheet"),
    "ok": ("paper", "sheet"),
    "on-chalk": ("chalk",),
}


def text_of(name: str) -> str:
    return resource("static", "css", name).read_text(encoding="utf-8")


def colors(dark: bool) -> dict[str, str]:
    light, night = text_of("site.css").split("@media screen and (prefers-color-scheme:dark)")
    return dict(re.findall(r"--([\w-]+):(#[0-9a-f]{3,6})\b", (night if dark else light)))


def luminance(color: str) -> float:
    digits = color[1:] if len(color) == 7 else "".join(digit * 2 for digit in color[1:])
    linear = []
    for at in (0, 2, 4):
        share = int(digits[at : at + 2], 16) / 255
        linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize(
    ("word", "ground"), [(word, ground) for word, grounds in WORDS.items() for ground in grounds]
)
def test_words_stand_out_seven_to_one(word: str, ground: str, dark: bool) -> None:
    named = colors(dark)
    assert contrast(named[word], named[ground]) >= 7


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("mark", ["red", "ochre", "edge", "chalk"])
def test_marks_stand_out_three_to_one(mark: str, dark: bool) -> None:
    named = colors(dark)
    assert contrast(named[mark], named["paper"]) >= 3


def test_the_style_sheets_are_small() -> None:
    """All of them, packed for the wire: a tenth of what a first detail page may weigh."""
    packed = sum(len(gzip.compress(text_of(name).encode())) for name in SHEETS)
    assert packed <= 6_000


def test_every_color_that_is_used_is_defined_on_the_light_sheet_and_the_dark() -> None:
    used = {name for sheet in SHEETS for name in re.findall(r"var\(--([\w-]+)\)", text_of(sheet))}
    assert used <= colors(dark=False).keys()
    assert used <= colors(dark=True).keys()
