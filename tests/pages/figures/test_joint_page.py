"""The page of the joint: the width on the day, go or wait, and what is wrong beside its field."""

import pytest

from tests.pages.at_the_wall import Browser, Wall
from tests.pages.figures.asking import answers, asked, beyond, notes, said, wrong

READ = {"air": "68", "humidity": "40", "wood": "8"}


def test_the_joint_begins_with_an_ordinary_one_and_asks_for_the_meter(super_: Browser) -> None:
    page = asked(super_, "joint")
    assert answers(page)["Today"] == "read first"
    assert "Nobody has metered the wood" in notes(page)
    assert page.select_one("figure svg[role=img] > title") is not None


def test_with_air_and_meter_right_it_is_go(super_: Browser) -> None:
    page = asked(super_, "joint", **READ)
    assert answers(page)["Today"] == "go"
    assert beyond(page) == []


def test_wood_far_from_what_the_room_brings_it_to_is_wait_and_says_why(super_: Browser) -> None:
    page = asked(super_, "joint", **{**READ, "wood": "12"})
    assert answers(page)["Today"] == "wait"
    assert "Wood away from where the room brings it, points" in beyond(page)


def test_along_the_grain_it_says_that_the_season_hardly_matters(super_: Browser) -> None:
    page = asked(super_, "joint", grain="along", **READ)
    assert "Along the grain wood hardly moves" in notes(page)
    assert "stop bead" in notes(page)


def test_a_piece_too_wide_is_said_with_the_widest_that_works(super_: Browser) -> None:
    page = asked(super_, "joint", width="14", **READ)
    assert answers(page)["Fit it at"] == "none works"
    assert "takes a piece of at most 9 9/16 in" in notes(page)


def test_wood_too_damp_for_any_width_is_said_so(super_: Browser) -> None:
    page = asked(super_, "joint", width="8", wood="30")
    assert answers(page)["Fit it at"] == "none works"
    assert "Let it come to rest first" in notes(page)


def test_several_mistakes_are_said_at_once(super_: Browser) -> None:
    page = asked(super_, "joint", 422, width="0", air="68", humidity="140", air_5="999")
    assert set(wrong(page)) == {"width", "humidity", "air_5"}


def test_moisture_outside_6_to_14_is_worked_out_with_a_note(super_: Browser) -> None:
    page = asked(super_, "joint", air_1="70", humidity_1="20", **READ)
    assert "outside 6 to 14%" in notes(page)
    assert "4.5%" in said(page.select_one(".grid tbody tr"))


def test_another_wood_goes_by_its_own_coefficient(super_: Browser) -> None:
    page = asked(super_, "joint", species="other", tangential="0.003", **READ)
    assert "0.00300" in page.get_text()


@pytest.mark.parametrize(("grain", "field"), [("flat", "tangential"), ("quarter", "radial")])
def test_another_wood_without_a_coefficient_is_refused(
    super_: Browser, grain: str, field: str
) -> None:
    page = asked(super_, "joint", 422, species="other", grain=grain)
    assert list(wrong(page)) == [field]
    assert "Nobody can say how far this wood moves" in wrong(page)[field]


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"humidity": "140", "air": "68"}, "humidity"),
        ({"air": "200", "humidity": "40"}, "air"),
        ({"air": "68"}, "humidity"),
        ({"humidity": "40"}, "air"),
        ({"humidity_3": "-4"}, "humidity_3"),
        ({"width": "5 1/"}, "width"),
        ({"width": "0"}, "width"),
        ({"width": "3' 14\""}, "width"),
        ({"least": "1/4", "most": "1/8"}, "most"),
        ({"wood": "0.5"}, "wood"),
        ({"species": "plastic"}, "species"),
        ({"species": "other", "tangential": "3"}, "tangential"),
        ({"insert": "1/4", "insert_least": "60", "insert_most": "50"}, "insert_most"),
    ],
)
def test_what_makes_no_joint_is_said_beside_its_field_and_kept(
    super_: Browser, typed: dict[str, str], field: str
) -> None:
    page = asked(super_, "joint", 422, **typed)
    assert list(wrong(page)) == [field]
    assert page.select(".answer") == []
    for name, value in typed.items():
        kept = page.select_one(f"input#{name}")
        assert kept is None or kept["value"] == value


def test_in_millimeters_the_same_joint_is_read_in_millimeters_and_celsius(super_: Browser) -> None:
    page = asked(super_, "joint", units="mm", width="140", least="1.5", most="5", air="20",
                 humidity="40", wood="8")  # fmt: skip
    assert answers(page)["Fit it at"].endswith("mm")
    assert "20°C" in page.get_text()
    assert answers(page)["Today"] == "go"


def test_an_insert_shows_how_far_each_month_presses_it(super_: Browser) -> None:
    page = asked(super_, "joint", insert="1/4", **READ)
    assert "Insert pressed" in said(page.select_one(".grid thead"))
    assert any("Insert pressed most" in said(one) for one in page.select(".held li"))


def test_for_htmx_only_what_follows_from_the_numbers_comes_back(super_: Browser) -> None:
    page = asked(super_, "joint", htmx=True, **READ)
    assert page.select("form, html") == []
    assert answers(page)["Today"] == "go"


def test_readings_of_a_place_stand_in_for_what_is_not_typed(read_house: Wall) -> None:
    page = asked(read_house.browser("Rufus Orme"), "joint", place="garden-stair")
    assert answers(page)["Today"] == "go"
    assert "air 66°F (today 7:40 am)" in notes(page)
    typed = asked(
        read_house.browser("Rufus Orme"), "joint", place="garden-stair", air="50", humidity="41"
    )
    assert answers(typed)["Today"] == "wait"


def test_a_crew_is_offered_the_places_of_its_own_details_and_no_other(read_house: Wall) -> None:
    def places(who: str) -> list[str]:
        options = asked(read_house.browser(who), "joint").select("#place option")
        return [str(one["value"]) for one in options]

    assert places("Rufus Orme") == ["", "garden-stair", "cellar"]
    assert places("Ore Street Metal lead") == ["", "garden-stair"]
    crew = read_house.browser("Ore Street Metal lead")
    assert list(wrong(asked(crew, "joint", 422, place="cellar"))) == ["place"]


def test_where_nothing_was_read_no_place_is_offered(super_: Browser) -> None:
    assert asked(super_, "joint").select("#place") == []
