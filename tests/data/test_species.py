"""Woods as data: each with both coefficients and a source; one without is named with its line."""

import pytest

from server.data.rooms import all_rooms, rooms
from server.data.species import all_species, read_species, species
from server.data.tables import BadFile

GOOD = """\
source = "a book"
tag = "R"

[[species]]
id = "pear"
name = "Pear"
radial = 0.0015
tangential = 0.0031
"""


def test_a_wood_has_the_source_and_tag_of_its_file() -> None:
    (pear,) = read_species(GOOD, "own.toml")
    assert (pear.radial, pear.tangential, pear.source, pear.tag) == (0.0015, 0.0031, "a book", "R")


def test_a_wood_may_have_a_source_of_its_own() -> None:
    own = GOOD + 'source = "a maker"\ntag = "own"\n'
    (pear,) = read_species(own, "own.toml")
    assert (pear.source, pear.tag) == ("a maker", "own")


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ("tangential = 0.0031\n", "", "own.toml, line 4, tangential: is missing"),
        ("0.0031", '"much"', "own.toml, line 8, tangential: 'much' is no decimal number"),
        ("radial", "radius", "own.toml, line 4, radial: is missing"),
        ('"R"', '"X"', "own.toml, line 2, tag: 'X' is none of R, S, P, M, own"),
    ],
)
def test_a_wrong_wood_is_refused_with_its_line(was: str, becomes: str, said: str) -> None:
    with pytest.raises(BadFile) as refused:
        read_species(GOOD.replace(was, becomes), "own.toml")
    assert str(refused.value) == said


def test_woods_are_found_by_id_and_listed_by_name() -> None:
    names = [one.name for one in all_species()]
    assert names == sorted(names)
    ash = species("white ash")
    assert ash is not None
    assert ash.name == "White ash"
    assert species("plastic") is None


def test_every_wood_moves_more_along_the_rings_than_across_them() -> None:
    assert all(one.radial < one.tangential for one in all_species())


def test_every_region_has_twelve_months_of_air() -> None:
    assert all(len(one.months) == 12 for one in all_rooms())
    assert rooms("cold") is not None
    assert rooms("moon") is None
