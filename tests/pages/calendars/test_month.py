"""A calendar as a month that is pressed, with and without htmx; holidays; a crew's own hours."""

from datetime import date

import pytest
from bs4 import BeautifulSoup, Tag
from httpx import Response

from server.core.changes.calendars import KeepHolidays
from tests.pages.at_the_wall import Browser, Wall
from tests.pages.plan.typing_in import Super, Typed, refused, value_of
from tests.worlds import COMPANY, actor

SITE = "/house/calendars/site"
DECEMBER = f"{SITE}?month=2025-12"
HTMX = {"HX-Request": "true", "HX-Target": "month"}
CHRISTMAS = date(2025, 12, 25)


def press(browser: Browser, day: str, typed: dict[str, str], **headers: str) -> Response:
    page = browser.get(DECEMBER)
    return browser.send(page, f"{SITE}/days", {**typed, "day": day}, **headers)


def day_of(page: BeautifulSoup, day: str) -> str:
    """What a day says of itself to who cannot see it."""
    button = page.select_one(f'button[name="day"][value="{day}"] .vh')
    assert isinstance(button, Tag), day
    return button.text


def test_a_month_says_of_each_day_what_it_is(rufus: Super) -> None:
    page = rufus.page(DECEMBER)
    assert day_of(page, "2025-12-04") == "Thursday, December 4: works 7:00-12:00, 12:30-15:30"
    assert day_of(page, "2025-12-06") == "Saturday, December 6: no work"
    assert len(page.select('button[name="day"]')) == 31


def test_a_week_begins_on_sunday_in_the_united_states_and_on_monday_in_germany(
    rail: Wall, rufus: Super
) -> None:
    def first() -> str:
        head = rufus.page(DECEMBER).select_one("table.pressed th .vh")
        assert head is not None
        return head.text

    assert first() == "Sunday"
    rufus.take(f"{SITE}/holidays?country=DE", {})
    assert first() == "Monday"


@pytest.mark.parametrize("month", ["", "2025-13", "0001-01", "x", "9999-12"])
def test_without_a_month_that_there_is_this_one_is_shown(rufus: Super, month: str) -> None:
    title = rufus.page(f"{SITE}?month={month}").select_one("#m-title")
    assert title is not None
    assert title.text == "December 2025"


def test_the_months_beside_it_keep_what_a_press_makes_of_a_day(rufus: Super) -> None:
    page = rufus.page(f"{DECEMBER}&make=hours&hours=8-noon")
    for link, month in (("m-before", "2025-11"), ("m-after", "2026-01")):
        href = str(page.select_one(f"#{link}")["href"])  # type: ignore[index]
        assert f"month={month}" in href
        turned = rufus.page(href)
        assert turned.select_one('input[value="hours"]').has_attr("checked")  # type: ignore[union-attr]
        assert turned.select_one("#hours")["value"] == "8-noon"  # type: ignore[index]


def test_a_pressed_day_leads_back_to_its_month_and_says_what_moved(
    rail: Wall, rufus: Super
) -> None:
    answer = press(rufus.browser, "2025-12-04", {"make": "closed", "note": "Fair"})
    assert answer.status_code == 303
    where = answer.headers["location"]
    assert where == f"{SITE}?month=2025-12&make=closed&hours=7%3A00-12%3A00%2C+12%3A30-15%3A30" \
        "&note=Fair#d2025-12-04"  # fmt: skip
    page = rufus.page(where)
    assert "closed, Fair" in day_of(page, "2025-12-04")
    told = page.select_one(".flash")
    assert told is not None
    assert told.text == (
        "Taken. Quarry Road house now ends Mon Dec 8, 1 working day later. "
        "Garden stair rail now ends Mon Dec 8, 1 working day later. "
        "It is promised for Sat Dec 6. "
        "Ninepail Plaster is asked for Thu Dec 4, when it does not work any more: "
        "ask for another day."
    )


def test_with_htmx_only_the_month_comes_back_with_the_day_to_focus(
    rail: Wall, rufus: Super
) -> None:
    typed = {"make": "hours", "hours": "8-noon"}
    answer = press(rufus.browser, "2025-12-06", typed, **HTMX)
    assert answer.status_code == 200
    part = BeautifulSoup(answer.text, "html.parser")
    assert part.find(True, recursive=False).get("id") == "month"  # type: ignore[union-attr]
    assert part.select_one("#d2025-12-06") is not None
    assert "works 8:00-12:00, own hours" in day_of(part, "2025-12-06")
    assert "Nothing moves" in part.text or "now ends" in part.text
    assert rail.snapshot().calendars["site"].extra == ("2025-12-06 08:00 12:00",)


def test_whoever_is_led_to_a_calendar_by_htmx_gets_the_whole_page(rufus: Super) -> None:
    page = rufus.browser.get(DECEMBER, **{"HX-Request": "true"})
    assert page.select_one("h1") is not None


def test_only_showing_what_it_would_move_keeps_nothing(rail: Wall, rufus: Super) -> None:
    before = rail.snapshot().calendars["site"]
    answer = press(rufus.browser, "2025-12-04", {"make": "closed", "only_try": "yes"})
    assert answer.status_code == 200
    assert (
        "Only tried, nothing is taken. With it: Quarry Road house now ends Mon Dec 8" in answer.text
    )
    assert rail.snapshot().calendars["site"] == before


def test_a_visit_on_a_day_that_is_closed_is_named(rufus: Super) -> None:
    answer = press(rufus.browser, "2025-12-04", {"make": "closed"}, **HTMX)
    assert "Ninepail Plaster is asked for Thu Dec 4, when it does not work any more" in answer.text


@pytest.mark.parametrize("headers", [{}, HTMX])
@pytest.mark.parametrize("more", [{}, {"only_try": "yes"}])
@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"make": "hours", "hours": "8-", "day": "2025-12-06"}, "hours", "are no hours"),
        ({"make": "hours", "hours": "", "day": "2025-12-06"}, "hours", "Say the hours"),
        ({"make": "closed", "first": "", "last": ""}, "first", "filled in"),
        ({"make": "closed", "first": "2025-12-24", "last": "2025-12-20"}, "last", "before"),
        ({"make": "closed", "first": "Christmas"}, "first", "not a day there is"),
    ],
)
def test_what_cannot_be_read_is_said_beside_its_field_and_kept(
    rail: Wall,
    rufus: Super,
    typed: dict[str, str],
    field: str,
    said: str,
    more: dict[str, str],
    headers: dict[str, str],
) -> None:
    before = rail.snapshot().calendars["site"]
    page = rufus.page(DECEMBER)
    answer = rufus.browser.send(page, f"{SITE}/days", {**typed, **more}, **headers)  # type: ignore[arg-type]
    assert answer.status_code == 422
    assert said in refused(answer)[field]
    assert value_of(answer, field) == typed[field]
    assert rail.snapshot().calendars["site"] == before


def test_many_days_are_closed_in_one_go_and_shown_as_one_line(rail: Wall, rufus: Super) -> None:
    typed: Typed = {"first": "2025-12-24", "last": "2025-12-31", "note": "Winter break"}
    assert rufus.send(DECEMBER, typed, f"{SITE}/days").status_code == 303
    assert len(rail.snapshot().calendars["site"].closed) == 8
    assert "Wed Dec 24 to Wed Dec 31" in rufus.page(DECEMBER).text


def test_a_day_changed_by_somebody_else_meanwhile_is_not_overwritten(
    rail: Wall, rufus: Super
) -> None:
    page = rufus.page(DECEMBER)
    press(rufus.browser, "2025-12-05", {"make": "closed"})
    answer = rufus.browser.send(page, f"{SITE}/days", {"make": "closed", "day": "2025-12-08"})
    assert answer.status_code == 409


def test_holidays_are_chosen_by_country_then_state_without_a_script(
    rail: Wall, rufus: Super
) -> None:
    page = rufus.page(f"{SITE}/holidays?country=US&state=MA")
    closes = [str(box["value"]) for box in page.select('input[name="closes"]')]
    assert "Patriots' Day" in closes
    rufus.take(
        f"{SITE}/holidays?country=US&state=MA",
        {"closes": [name for name in closes if name != "Columbus Day"]},
    )
    site = rail.snapshot().calendars["site"]
    assert site.holidays_of == "US-MA"
    assert "2026-04-20 Patriots' Day" in site.holidays
    assert date(2026, 10, 12) in site.opened
    april = rufus.page(f"{SITE}?month=2026-04")
    assert "closed, Patriots' Day" in day_of(april, "2026-04-20")
    assert "Massachusetts, United States, 2024 to 2031" in april.text
    again = rufus.page(f"{SITE}/holidays")
    unticked = [b["value"] for b in again.select("input[name=closes]") if not b.has_attr("checked")]
    assert unticked == ["Columbus Day"]


def test_the_states_of_another_country_come_as_a_part(rufus: Super) -> None:
    headers = {"HX-Request": "true", "HX-Target": "place"}
    part = rufus.browser.get(f"{SITE}/holidays?country=CA", **headers)
    assert part.select_one("h1") is None
    assert "Quebec" in [option.text for option in part.select("#state option")]


def test_holidays_that_run_out_are_renewed_by_a_press(rail: Wall, rufus: Super) -> None:
    old = KeepHolidays(
        calendar_id="site",
        place="US",
        days=("2025-10-13 Columbus Day", "2025-12-25 Christmas Day"),
        worked=("Columbus Day",),
    )
    rail.store.apply(actor(rail.snapshot()), None, old, company_id=COMPANY)
    page = rufus.page(SITE)
    assert "Take them up to 2031" in page.text
    rufus.browser.send(page, f"{SITE}/holidays", {"renew": "yes"})
    site = rail.snapshot().calendars["site"]
    assert site.holidays[-1] == "2031-12-25 Christmas Day"
    assert date(2031, 10, 13) in site.opened
    assert date(2031, 12, 25) not in site.opened
    assert "Take them up to" not in rufus.page(SITE).text


def test_holidays_of_no_place_are_refused(rufus: Super) -> None:
    answer = rufus.browser.post(f"{SITE}/holidays", {"country": "XX", "closes": "Day"})
    assert answer.status_code == 422
    assert "Choose a country" in refused(answer)["country"]


def test_no_holidays_are_kept_any_more_by_a_press(rail: Wall, rufus: Super) -> None:
    rufus.take(f"{SITE}/holidays?country=US", {})
    rufus.browser.send(rufus.page(f"{SITE}/holidays"), f"{SITE}/holidays", {"none": "yes"})
    site = rail.snapshot().calendars["site"]
    assert (site.holidays_of, site.holidays) == ("", ())


def test_a_crew_gets_hours_of_its_own_and_then_a_saturday(rail: Wall, rufus: Super) -> None:
    crew = "/house/crews/ninepail-plaster"
    page = rufus.page(crew)
    assert "the hours of whatever house" in page.text
    answer = rufus.browser.send(page, f"{crew}/hours")
    own = answer.headers["location"]
    month = rufus.page(f"{own}?month=2025-12")
    assert "Follows Site week" in month.text
    action = f"{own}/days"
    rufus.browser.send(month, action, {"make": "hours", "hours": "8-12", "day": "2025-12-06"})
    made = rail.snapshot().calendars[own.rpartition("/")[2]]
    assert made.extra == ("2025-12-06 08:00 12:00",)
    assert rail.snapshot().calendars["site"].extra == ()
    assert "hours of its own" in rufus.page(crew).text


def test_a_calendar_goes_only_when_nobody_keeps_it(rail: Wall, rufus: Super) -> None:
    assert rufus.page(SITE).select_one(f'form[action="{SITE}/drop"]') is None
    answer = rufus.browser.post(f"{SITE}/drop", {})
    assert answer.status_code == 422
    assert "still kept by Quarry Road house" in refused(answer)["calendar_id"]
    rufus.take("/house/calendars/new", {"name": "Winter", "based_on_id": "Site week"})
    (made,) = [c for c in rail.snapshot().calendars.values() if c.name == "Winter"]
    path = f"/house/calendars/{made.id}"
    assert rufus.browser.send(rufus.page(path), f"{path}/drop").status_code == 303
    assert made.id not in rail.snapshot().calendars
