"""Wood in air, and wood that moves: against the figures that the Wood Handbook prints.

USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-282: table 4-2 (equilibrium moisture
content), chapter 13 (the worked example of white fir, table 13-5, averages in service).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.core.figures.base import BadFigure
from server.core.figures.moisture import equilibrium, in_range, metered, movement
from server.data.rooms import Rooms, all_rooms
from server.data.species import all_species, species

TABLE_4_2 = [
    (70, 20, 4.5),
    (70, 30, 6.2),
    (70, 40, 7.7),
    (70, 50, 9.2),
    (70, 60, 11.0),
    (70, 65, 12.0),
    (70, 75, 14.4),
    (70, 85, 17.9),
    (50, 50, 9.5),
    (100, 50, 8.7),
]
TABLE_13_5 = {
    "white oak": (0.00180, 0.00365),
    "red oak": (0.00158, 0.00369),
    "hard maple": (0.00165, 0.00353),
    "red maple": (0.00137, 0.00289),
    "white ash": (0.00169, 0.00274),
    "black walnut": (0.00190, 0.00274),
    "black cherry": (0.00126, 0.00248),
    "beech": (0.00190, 0.00431),
    "yellow birch": (0.00256, 0.00338),
    "basswood": (0.00230, 0.00330),
    "red alder": (0.00151, 0.00256),
    "elm": (0.00144, 0.00338),
}


@pytest.mark.parametrize(("fahrenheit", "humidity", "printed"), TABLE_4_2)
def test_wood_comes_to_the_moisture_of_table_4_2(
    fahrenheit: float, humidity: float, printed: float
) -> None:
    """To ±0.06: the equation gives 17.9606 at 70 °F and 85 %, where the table prints 17.9."""
    assert equilibrium(fahrenheit, humidity) == pytest.approx(printed, abs=0.0607)


def test_flat_sawn_white_fir_of_232_mm_grows_1705_thousandths_from_8_to_11_percent() -> None:
    """Chapter 13, worked example."""
    assert movement(232, 0.00245, 8, 11) == pytest.approx(1.705, abs=0.0005)


@pytest.mark.parametrize(("id", "pair"), TABLE_13_5.items())
def test_a_wood_moves_by_the_coefficients_of_table_13_5(id: str, pair: tuple[float, float]) -> None:
    one = species(id)
    assert one is not None
    assert (one.coefficient("quarter"), one.coefficient("flat")) == pair
    assert "13-5" in one.source


def test_no_wood_ships_that_the_table_here_does_not_hold() -> None:
    assert {one.id for one in all_species()} == set(TABLE_13_5)


@pytest.mark.parametrize("rooms", all_rooms(), ids=lambda rooms: rooms.id)
def test_the_rooms_of_a_region_bring_wood_near_its_average_in_service(rooms: Rooms) -> None:
    """Chapter 13: 8 % in most of the US, 6 % in the dry southwest, 11 % on the southern coast."""
    reached = [equilibrium(air.fahrenheit, air.humidity) for air in rooms.months]
    assert sum(reached) / 12 == pytest.approx(rooms.mean, abs=0.25)
    assert rooms.mean in (6, 8, 11)


def test_a_pin_meter_reads_half_a_point_high_for_each_10_f_over_70() -> None:
    """Chapter 4, in round numbers."""
    assert [metered(9, warm) for warm in (50, 70, 90)] == [10, 9, 8]


@pytest.mark.parametrize(
    ("moistures", "inside"), [((6, 14), True), ((5.9, 8), False), ((8, 14.1), False)]
)
def test_movement_is_held_to_be_even_from_6_to_14_percent(
    moistures: tuple[float, ...], inside: bool
) -> None:
    assert in_range(*moistures) is inside


@given(st.floats(0, 130), st.floats(0, 100), st.floats(0, 100))
def test_damper_air_never_leaves_wood_drier(fahrenheit: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert equilibrium(fahrenheit, low) <= equilibrium(fahrenheit, high) + 1e-9


@given(st.floats(0.1, 100), st.floats(0.001, 0.005), st.floats(2, 25), st.floats(2, 25))
def test_more_moisture_is_never_narrower_and_back_again_is_as_before(
    width: float, coefficient: float, one: float, other: float
) -> None:
    low, high = sorted((one, other))
    assert movement(width, coefficient, low, high) >= 0
    assert movement(width, coefficient, one, other) == -movement(width, coefficient, other, one)


@pytest.mark.parametrize("humidity", [-1, 100.5, 140])
def test_a_humidity_that_is_none_is_refused(humidity: float) -> None:
    with pytest.raises(BadFigure) as refused:
        equilibrium(70, humidity)
    assert (refused.value.id, refused.value.field) == ("figures.bad.humidity", "humidity")
