"""The page of drying: the wait planned by kind, by the air, and by the meter that decides."""

import pytest

from server.core.particulars import STUFFS
from tests.pages.at_the_wall import Browser, Wall
from tests.pages.figures.asking import answers, asked, beyond, notes, said, wrong


def test_half_an_inch_of_gypsum_plaster_in_good_air(super_: Browser) -> None:
    page = asked(super_, "drying")
    assert answers(page)["Plan"] == "18 days"
    assert answers(page)["Likely from, to"] == "13 to 25 days"
    assert "The meter decides" in notes(page)


def test_damp_air_makes_the_plan_longer(super_: Browser) -> None:
    page = asked(super_, "drying", air="60", humidity="65")
    assert answers(page)["Plan"] == "36 days"


@pytest.mark.parametrize("stuff", ["lime", "cement"])
def test_what_cures_is_not_hurried_by_hot_dry_air_and_is_warned_of(
    super_: Browser, stuff: str
) -> None:
    mild = asked(super_, "drying", stuff=stuff)
    hot = asked(super_, "drying", stuff=stuff, air="95", humidity="15")
    assert answers(mild)["Plan"] == answers(hot)["Plan"]
    assert "do not heat to hurry it" in notes(hot)
    assert "do not heat to hurry it" not in notes(mild)
    assert beyond(hot) == ["Air while it is wet", "Humidity while it is wet"]
    assert [said(one) for one in hot.select(".held small")] == ["common practice, no source"] * 2


@pytest.mark.parametrize("stuff", STUFFS)
@pytest.mark.parametrize("stage", ["coat", "last"])
def test_every_kind_and_stage_is_planned_and_drawn(super_: Browser, stuff: str, stage: str) -> None:
    page = asked(super_, "drying", stuff=stuff, stage=stage)
    assert "days" in answers(page)["Plan"]
    assert page.select_one("figure svg[role=img] > title") is not None


def test_air_that_is_full_has_no_number_of_days(super_: Browser) -> None:
    page = asked(super_, "drying", humidity="100")
    assert answers(page)["Plan"] == "not in this air"
    assert page.select("figure") == []


def test_readings_are_drawn_and_say_when_their_own_pace_gets_there(super_: Browser) -> None:
    page = asked(super_, "drying", wet="12", dry="1", readings="1 11.5\n4: 8.6")
    assert answers(page)["Dry at the meter's pace"].startswith("day ")
    assert "not dry, whatever the days say" in notes(page)
    drawn = page.select_one("path.dd-read")
    assert drawn is not None
    assert str(drawn["d"]).count("v") == 2


def test_a_meter_at_what_counts_as_dry_says_so(super_: Browser) -> None:
    page = asked(super_, "drying", wet="12", dry="1", readings="3 4\n9 1")
    assert "at or under what counts as dry" in notes(page)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"humidity": "140"}, "humidity"),
        ({"air": "-40"}, "air"),
        ({"thick": "0"}, "thick"),
        ({"thick": "12"}, "thick"),
        ({"days": "0"}, "days"),
        ({"days": "2.5"}, "days"),
        ({"wet": "3", "dry": "5"}, "dry"),
        ({"wet": "140"}, "wet"),
        ({"readings": "yesterday it was wet"}, "readings"),
        ({"readings": "400 8"}, "readings"),
        ({"stuff": "butter"}, "stuff"),
    ],
)
def test_what_makes_no_plan_is_said_beside_its_field_and_kept(
    super_: Browser, typed: dict[str, str], field: str
) -> None:
    page = asked(super_, "drying", 422, **typed)
    assert list(wrong(page)) == [field]
    for name, value in typed.items():
        kept = page.select_one(f"input#{name}")
        assert kept is None or kept["value"] == value


def test_work_that_was_done_brings_its_air_and_its_readings(read_house: Wall) -> None:
    page = asked(read_house.browser("Rufus Orme"), "drying", coat="brown-coat", dry="1")
    air, humidity = page.select_one("#air"), page.select_one("#humidity")
    assert air is not None
    assert humidity is not None
    assert (air["value"], humidity["value"]) == ("66", "41")
    assert "plaster 7%" in notes(page)
    drawn = page.select_one("path.dd-read")
    assert drawn is not None
    assert str(drawn["d"]).count("v") == 2


def test_only_wet_work_done_lately_is_offered(read_house: Wall) -> None:
    page = asked(read_house.browser("Rufus Orme"), "drying")
    assert [said(one) for one in page.select("#coat option")] == [
        "none: as typed",
        "Brown coat, Garden stair rail",
    ]


def test_where_no_wet_work_was_done_none_is_offered(super_: Browser) -> None:
    assert asked(super_, "drying").select("#coat") == []
    assert "Read there" not in notes(asked(super_, "drying", coat="brown-coat"))
