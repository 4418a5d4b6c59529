"""The flight to scale: its shape in inches, and every dimension on the sheet."""

import re

import pytest
from bs4 import BeautifulSoup, Tag
from hypothesis import given
from hypothesis import strategies as st

from server.drawing.flight import WIDTH, flight_drawing
from server.drawing.flight_shape import FlightWords, Shape
from server.drawing.jig import JigWords, jig_drawing
from server.drawing.turn import Turn, TurnWords, turn_drawing

WORDS = FlightWords(
    title="A flight of 14 risers",
    rise=("105 in", "finished"),
    run="136 1/2 in",
    riser="7 1/2 in",
    first=("7 1/4 in", "as cut"),
    last=("7 3/4 in", "as cut"),
    finished="finished",
    rough="as cut",
    foot="Foot",
    head="Head",
    under=("36°", "13 treads", "14 risers"),
    headroom="81 in",
    headroom_line="headroom 80 in",
)


def a_shape(**changed: float | int | None) -> Shape:
    asked = {"count": 14, "riser": 7.5, "going": 10.5, "nosing": 1.0, "tread": 1.0,
             "floor_below": 0.75, "floor_above": 0.75, **changed}  # fmt: skip
    return Shape(**asked)  # type: ignore[arg-type]


def drawn(shape: Shape) -> BeautifulSoup:
    return BeautifulSoup(flight_drawing(shape, WORDS), "html.parser")


def points_of(page: BeautifulSoup) -> list[tuple[float, float]]:
    """Every point of the straight lines on the sheet."""
    d = " ".join(str(one["d"]) for one in page.select("path") if "l" not in str(one["d"]))
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", d)]


def test_rough_treads_lie_a_finish_below_the_finished_ones() -> None:
    shape = a_shape()
    assert [shape.rough_at(k) for k in (0, 1, 13, 14)] == [-0.75, 6.5, 96.5, 104.25]


def test_the_finished_profile_climbs_from_floor_to_floor() -> None:
    points = a_shape().finished(12)
    assert points[0] == (-12, 0)
    assert points[-1] == (13 * 10.5 + 12, 105)
    assert max(y for _, y in points) == 105


def test_every_dimension_stands_on_the_sheet() -> None:
    said = [one.text for one in drawn(a_shape()).select("text")]
    for text in ("105 in", "136 1/2 in", "7 1/4 in", "7 3/4 in", "Foot", "Head", "headroom 80 in"):
        assert (text in said) is (text != "headroom 80 in")
    assert "headroom 80 in" in [
        one.text for one in drawn(a_shape(headroom_wanted=80.0)).select("text")
    ]


def test_the_floor_above_is_drawn_where_its_edge_is_known() -> None:
    said = [one.text for one in drawn(a_shape(opening=125.0, floor_depth=11.0)).select("text")]
    assert "81 in" in said
    assert "81 in" not in [one.text for one in drawn(a_shape()).select("text")]


def test_the_drawing_says_itself_to_those_who_do_not_see_it() -> None:
    picture = drawn(a_shape()).select_one("svg")
    assert isinstance(picture, Tag)
    assert picture["role"] == "img"
    assert picture.title
    assert picture.title.text == "A flight of 14 risers"


@given(
    st.integers(1, 30), st.floats(4, 12), st.floats(6, 20), st.floats(0, 2), st.floats(0, 2),
    st.floats(0, 2),
)  # fmt: skip
def test_whatever_the_flight_it_stays_on_its_sheet(
    count: int, riser: float, going: float, nosing: float, tread: float, floor: float
) -> None:
    shape = a_shape(count=count, riser=riser, going=going, nosing=nosing, tread=tread,
                    floor_below=floor)  # fmt: skip
    page = drawn(shape)
    picture = page.select_one("svg")
    assert isinstance(picture, Tag)
    height = float(str(picture["viewbox"]).split()[3])
    for x, y in points_of(page):
        assert -0.1 <= x <= WIDTH + 0.1
        assert -0.1 <= y <= height + 0.1


def test_one_riser_alone_has_a_foot_and_no_head() -> None:
    said = [one.text for one in drawn(a_shape(count=1)).select("text")]
    assert "Foot" in said
    assert "Head" not in said


@pytest.mark.parametrize("turn", [30.0, 90.0, 180.0, 350.0, 540.0])
def test_a_turn_has_a_nosing_more_than_winders(turn: float) -> None:
    words = TurnWords("Turn", "6 in", "10 in", "18 in", "30°")
    page = BeautifulSoup(turn_drawing(Turn(12, 24, 48, turn, 6), words), "html.parser")
    assert len(page.select(".fg-line")) == 7
    assert {"6 in", "10 in", "18 in"} <= {one.text for one in page.select("text")}


def test_a_jig_has_its_ordinates_on_both_sides_of_the_middle() -> None:
    ordinates = [(0.0, 20.0), (20.0, 15.8), (40.0, 0.0)]
    words = JigWords("Jig", "80 in", "20 in", "radius 50 in")
    page = BeautifulSoup(jig_drawing(50, 80, 20, ordinates, words), "html.parser")
    # three ordinates, and two extensions of the dimension of the rise
    assert len(page.select(".fg-thin")) == 3 + 2
