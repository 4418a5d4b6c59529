"""A figure of a stair or rail that is kept although it lies outside its limits."""

from dataclasses import replace

from server.core.world import KeptFigure
from server.words import say
from tests.core.warnings.finding import of, one
from tests.worlds import PROJECT, World, a_project, on

OUTSIDE = "figure outside its limits"
FIGURE = KeptFigure(
    id="flight", project_id=PROJECT, detail_id="main-stair", figure="stairs", name="Main flight",
    inputs="rise=120", limits="IRC 2021 figures", outside=("riser", "tread"),
)  # fmt: skip
BARE = a_project().with_detail("Main stair").with_check("Risers")
WORLD = BARE.put(FIGURE)


def with_figure(**fields: object) -> World:
    return BARE.put(replace(FIGURE, **fields))  # type: ignore[arg-type]


def test_a_figure_beyond_its_limits_is_a_danger_and_names_them() -> None:
    found = one(OUTSIDE, WORLD)
    assert (found.bad, found.detail_id) == ("danger", "main-stair")
    assert "IRC 2021 figures" in say(found.sentence)


def test_the_check_with_its_numbers_is_named() -> None:
    assert one(OUTSIDE, with_figure(hold_id="risers-check")).hold_id == "risers-check"


def test_a_figure_within_its_limits_is_none() -> None:
    assert not of(OUTSIDE, with_figure(outside=()))


def test_one_that_is_not_kept_any_more_is_none() -> None:
    assert not of(OUTSIDE, with_figure(ended=on("Dec 2")))


def test_what_was_accepted_comes_back_with_other_numbers() -> None:
    other = with_figure(inputs="rise=130")
    assert one(OUTSIDE, WORLD).identity != one(OUTSIDE, other).identity
