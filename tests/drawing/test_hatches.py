import re

import pytest

from server.drawing.buildup import build_up_svg
from server.drawing.hatches import hatch_defs, hatch_of
from tests.drawing.sides import a_layer, a_side


@pytest.mark.parametrize(
    ("material", "hatch"),
    [
        ("lime plaster", "plaster"),
        ("bent plywood", "ply"),
        ("gypsum board", "board"),
        ("ash", "wood"),
        ("Ash treads", "wood"),
        ("zinc flashing", "zinc"),
        ("steel stand-offs", "steel"),
        ("air", "air"),
        ("LED wire", "wire"),
        ("rigid foam", "foam"),
        ("crushed rock", "gravel"),
        ("compacted earth", "earth"),
        ("hearth", "plain"),
        ("porcelain tile", "tile"),
        ("stone tile", "tile"),
        ("bluestone", "stone"),
        ("aluminum channel", "steel"),
        ("acrylic", "glass"),
        ("neoprene gasket", "rubber"),
        ("something new", "plain"),
        ("", "plain"),
    ],
)
def test_a_material_finds_its_hatch_by_the_trade_word_in_it(material: str, hatch: str) -> None:
    assert hatch_of(material) == hatch


def test_every_hatch_that_a_drawing_refers_to_is_defined() -> None:
    materials = "wood ply board lath batt plaster steel laminated glass stone membrane zinc shingle"
    layers = [
        a_layer(name, material=name, state=state)
        for name in f"{materials} concrete tile foam gravel earth rubber wire air".split()
        for state in ("in the open", "going in")
    ]
    text = str(build_up_svg(a_side(*layers), title="a", desc="b"))
    referred = set(re.findall(r"url\(#([\w-]+)\)", text))
    assert referred
    assert referred <= set(re.findall(r'id="([\w-]+)"', hatch_defs()))


def test_only_the_hatches_asked_for_are_sent() -> None:
    assert re.findall(r'id="h-([\w-]+)"', hatch_defs(["oak", "stud", "glass"])) == ["glass", "wood"]
