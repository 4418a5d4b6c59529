"""Places that have public holidays, and for which years they are kept."""

from datetime import date

import pytest

from server.data.holidays import (
    countries,
    country_of_zone,
    first_weekday,
    half_days_in,
    holidays_in,
    is_place,
    place_name,
    states,
    years_around,
)


def test_countries_and_states_have_readable_names_in_order() -> None:
    assert ("US", "United States") in countries()
    assert ("VT", "Vermont") in states("US")
    assert ("QC", "Quebec") in states("CA")
    names = [name for _, name in countries()]
    assert names == sorted(names)


def test_every_country_can_be_asked_for_its_days() -> None:
    for country, _ in countries():
        for one in holidays_in(country, "", (2026,)):
            assert one.day.year == 2026
            assert one.name.strip()


@pytest.mark.parametrize("place", [("", ""), ("XX", ""), ("US", "XX"), ("../etc", "")])
def test_what_is_no_place_is_none(place: tuple[str, str]) -> None:
    assert not is_place(*place)
    assert not states("XX")


def test_half_days_are_told_apart() -> None:
    (eve,) = half_days_in("PR", "", (2026,))
    assert eve.day == date(2026, 12, 24)
    assert eve.day not in {one.day for one in holidays_in("PR", "", (2026,))}
    assert half_days_in("IE", "", (2026,)) == ()


def test_the_years_reach_around_today_and_the_starts_of_houses() -> None:
    assert list(years_around(date(2025, 12, 3), ())) == list(range(2024, 2032))
    years = years_around(date(2025, 12, 3), (date(2023, 5, 1), date(2028, 1, 1)))
    assert (years[0], years[-1]) == (2022, 2033)


def test_a_time_zone_says_which_country_and_the_country_how_weeks_begin() -> None:
    assert country_of_zone("America/Toronto") == "CA"
    assert country_of_zone("Nowhere/Town") == "US"
    assert (first_weekday("US"), first_weekday("IE"), first_weekday("AQ")) == (6, 0, 0)


def test_a_place_is_said_with_its_state() -> None:
    assert place_name("US-VT") == "Vermont, United States"
