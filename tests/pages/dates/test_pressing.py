"""Who may look at the dates of a detail, who may promise them, and who says why they moved."""

from datetime import date
from typing import Any

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Wall, garden_rail
from tests.pages.dates.conftest import PAGE, WHY, Serve, cause, evenings
from tests.pages.dates.test_page import slipped
from tests.worlds import on

SLIP = "2025-11-28"
MOVED = date(2025, 11, 28)


@pytest.fixture
def slipping(serve: Serve) -> Wall:
    """A rail whose finish moved on Nov 28."""
    return serve(slipped())


def page_of(answer: Any) -> BeautifulSoup:
    return BeautifulSoup(answer.text, "html.parser")


@pytest.mark.parametrize("person", ["Ninepail Plaster lead", "Lou Vance"])
def test_a_crew_of_the_detail_and_the_rep_look_and_have_nothing_to_press(
    slipping: Wall, person: str
) -> None:
    page = slipping.browser(person).get(PAGE)
    assert "Fri Nov 28" in page.text
    assert page.select_one("svg.fl") is not None
    assert page.select_one("main form") is None


def test_a_crew_that_has_no_work_there_sees_nothing_of_it(serve: Serve) -> None:
    wall = serve(slipped().with_crew("Hobnail Millwork"))
    assert wall.browser("Hobnail Millwork lead").status(PAGE) == 404


@pytest.mark.parametrize("person", ["Ninepail Plaster lead", "Lou Vance"])
def test_promising_and_saying_why_are_the_supers(slipping: Wall, person: str) -> None:
    browser = slipping.browser(person)
    typed = {"day": SLIP, "cause": "Rain", "reason": "Rain", "key": "k-1"}
    assert browser.post(WHY, typed).status_code == 403
    assert browser.post(PAGE, typed).status_code == 403
    assert not slipping.snapshot().causes
    assert {a.round for a in slipping.snapshot().agreed.values()} == {1}


def test_a_slip_gets_its_cause(slipping: Wall) -> None:
    browser = slipping.browser("Rufus Orme")
    taken = browser.send(browser.get(PAGE), WHY, {"cause": "  Board came late  "})
    assert (taken.status_code, taken.headers["location"]) == (303, PAGE)
    (given,) = slipping.snapshot().causes.values()
    assert (given.day, given.text, given.by_id) == (MOVED, "Board came late", "rufus-orme")
    page = browser.get(PAGE)
    assert "“Board came late”" in page.text
    assert page.select_one(f'form[action="{WHY}"]') is None


def test_the_same_form_sent_twice_is_one_cause(slipping: Wall) -> None:
    browser = slipping.browser("Rufus Orme")
    typed = {"day": SLIP, "cause": "Rain", "key": "k-1"}
    assert [browser.post(WHY, typed).status_code for _ in range(2)] == [303, 303]
    assert len(slipping.snapshot().causes) == 1


def test_a_slip_that_has_a_cause_is_not_asked_for_one(serve: Serve) -> None:
    wall = serve(slipped().put(cause(MOVED, "Rain")))
    assert wall.browser("Rufus Orme").get(PAGE).select_one(f'form[action="{WHY}"]') is None


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [("  ", "This has to be filled in."), ("x" * 2001, "At most 2000 letters, please.")],
)
def test_a_bad_cause_is_refused_beside_its_field_and_kept(
    slipping: Wall, typed: str, sentence: str
) -> None:
    browser = slipping.browser("Rufus Orme")
    refused = browser.send(browser.get(PAGE), WHY, {"cause": typed})
    assert refused.status_code == 422
    field = page_of(refused).select_one(f"details[open] #cause-{SLIP}[aria-invalid]")
    assert field is not None
    assert field.text == typed
    said = page_of(refused).select_one(f"#{field['aria-describedby']}")
    assert said is not None
    assert said.text == sentence
    assert not slipping.snapshot().causes


def test_a_refused_cause_of_an_older_day_is_not_folded_away(serve: Serve) -> None:
    finishes = [on(f"Dec {no}") for no in (1, 4, 8, 11, 15, 18, 22, 29)]
    wall = serve(garden_rail().put(*evenings(date(2025, 12, 2), finishes)))
    refused = wall.browser("Rufus Orme").post(WHY, {"day": "2025-11-26", "cause": ""})
    fold = page_of(refused).select_one("details.more[open]")
    assert fold is not None
    assert fold.select_one("#cause-2025-11-26[aria-invalid]") is not None


@pytest.mark.parametrize(
    ("day", "sentence"),
    [
        ("2025-12-24", "That day is still to come."),
        ("2025-02-30", "“2025-02-30” is not a day there is."),
        ("", "This has to be filled in."),
    ],
)
def test_a_day_that_cannot_be_is_refused_in_words(slipping: Wall, day: str, sentence: str) -> None:
    refused = slipping.browser("Rufus Orme").post(WHY, {"day": day, "cause": "Rain"})
    assert refused.status_code == 422
    errors = page_of(refused).select_one(".errors")
    assert errors is not None
    assert sentence in errors.text


def test_dates_are_promised_and_the_second_time_needs_a_reason(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get(PAGE)
    refused = browser.send(page, PAGE)
    assert refused.status_code == 422
    assert page_of(refused).select_one("#reason-e") is not None
    taken = browser.send(page, PAGE, {"reason": "Sample came late"})
    assert taken.status_code == 303
    assert max(a.round for a in wall.snapshot().agreed.values()) == 2
    assert "2 promises so far" in browser.get(PAGE).text
