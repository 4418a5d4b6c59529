"""A reading of the air, typed by the super or by a crew."""

from fractions import Fraction

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Wall

READING = "/p/quarry-road/reading"
LEAD = "Ninepail Plaster lead"


def test_the_air_is_read_from_the_day_before_and_is_there_at_once(wall: Wall) -> None:
    rufus = wall.browser("Rufus Orme")
    link = next(a for a in rufus.get("/").select(".ahead a") if "Read the air" in a.text)
    page = rufus.get(str(link["href"]))
    chosen = page.select_one("#place_id option[selected]")
    assert chosen is not None
    assert chosen["value"] == "garden-stair"
    typed = {"typed": "58", "place_id": "garden-stair", "where": "on the stringer"}
    answer = rufus.send(page, READING, {**typed})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    reading = next(iter(wall.snapshot().readings.values()))
    assert (reading.what, reading.value, reading.unit) == ("air", Fraction(58), "°F")
    assert (reading.where, reading.by_id) == ("on the stringer", "rufus-orme")
    assert "58°F" in rufus.get("/").select_one(".ahead").text  # type: ignore[union-attr]


def test_a_crew_reads_it_from_its_visit_and_is_led_back(wall: Wall) -> None:
    crew = wall.browser(LEAD)
    link = next(a for a in crew.get("/me").select("a.press") if "Read the air" in a.text)
    page = crew.get(str(link["href"]))
    typed = {"typed": "12", "what": "plaster", "place_id": "garden-stair"}
    answer = crew.send(page, READING, {**typed})
    assert (answer.status_code, answer.headers["location"]) == (303, "/me")
    reading = next(iter(wall.snapshot().readings.values()))
    assert (reading.what, reading.by_id) == ("plaster", "ninepail-plaster-lead")


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"typed": "warm"}, "typed"),
        ({"typed": ""}, "typed"),
        ({"typed": "140", "what": "humidity"}, "typed"),
        ({"what": "soil"}, "what"),
    ],
)
def test_a_bad_reading_is_refused_beside_its_field_and_kept(
    wall: Wall, typed: dict[str, str], field: str
) -> None:
    rufus = wall.browser("Rufus Orme")
    good = {"typed": "58", "place_id": "garden-stair", "where": "by the window"}
    answer = rufus.send(rufus.get(READING), READING, {**good, **typed})
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one(f"#{field}-e") is not None
    assert page.select_one('[name="where"]')["value"] == "by the window"  # type: ignore[index]
    assert not wall.snapshot().readings


def test_a_crew_is_offered_only_places_of_its_details(wall: Wall) -> None:
    for person, offered in ((LEAD, ["garden-stair"]), ("Rufus Orme", ["garden-stair"])):
        places = wall.browser(person).get(READING).select("#place_id option")
        assert [place["value"] for place in places] == offered


def test_a_reading_is_not_the_owners_to_take(wall: Wall) -> None:
    assert wall.browser("Lou Vance").status(READING) == 403


def test_a_way_back_to_elsewhere_is_not_taken(wall: Wall) -> None:
    rufus = wall.browser("Rufus Orme")
    page = rufus.get(f"{READING}?back=//elsewhere.example")
    assert page.select_one('[name="back"]')["value"] == "/"  # type: ignore[index]
