"""Limits profiles on the web: looked at, copied, changed, held against, taken off the list."""

import pytest
from bs4 import BeautifulSoup

from server.data.limits import text_of
from tests.pages.at_the_wall import Browser, Wall, fields_of

NEW = "/figures/limits/new"


def copied(browser: Browser, **typed: str | list[str]) -> str:
    """The address of a copy of the IRC figures."""
    page = browser.get(f"{NEW}?from=irc-2021")
    answer = browser.send(page, NEW, typed)
    assert answer.status_code == 303, answer.text[:2000]
    return str(answer.headers["location"])


def stricter() -> str:
    return text_of("irc-2021").replace('most = "7 3/4"', 'most = "7 1/2"')


def test_a_shipped_profile_is_shown_value_by_value_with_section_and_source(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get("/figures/limits/irc-2021")
    row = next(tr for tr in page.select("tbody tr") if "Riser height" in tr.text)
    assert [td.text for td in row.select("td")] == [
        "at most 7 3/4 in", "R311.7.5.1", "as restated by a second source",
    ]  # fmt: skip
    assert not page.select("textarea")


def test_a_copy_is_offered_under_a_name_of_its_own(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(f"{NEW}?from=irc-2021")
    name = page.select_one("#name")
    assert name
    assert name["value"] == "Ours, from IRC 2021 figures"


def test_what_the_company_changed_is_what_its_figures_are_held_against(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser, name="Elm Hill adopted", text=stricter())
    id = there.rpartition("/")[2]
    crew = wall.browser("Ore Street Metal lead")
    page = crew.get(f"/figures/stairs?rise=107+1/4&count=14&limits={id}")
    beyond = " ".join(one.text for one in page.select(".held .beyond"))
    assert "Riser height" in beyond
    assert "Elm Hill adopted" in beyond
    assert 'name = "Elm Hill adopted"' in wall.snapshot().own_limits[id].text


def test_it_is_changed_in_place_and_taken_off_the_list(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser, name="Elm Hill adopted")
    page = browser.get(there)
    assert browser.send(page, there, {"text": stricter()}).status_code == 303
    (own,) = wall.snapshot().own_limits.values()
    assert '"7 1/2"' in own.text
    page = browser.get(there)
    ending = page.select("details form")[-1]
    assert browser.post(there, dict(fields_of(ending))).status_code == 303  # type: ignore[arg-type]
    assert browser.status(there) == 404
    asked = browser.client.get(f"/figures/stairs?limits={own.id}")
    assert asked.status_code == 422


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"text": ""}, "form.needed"),
        ({"text": "id = 1"}, "Line 1"),
        ({"name": ""}, "form.needed"),
        ({"name": "IRC 2021 figures"}, "comes with the program is called so"),
    ],
)
def test_what_is_no_profile_is_said_and_kept(
    wall: Wall, typed: dict[str, str | list[str]], sentence: str
) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get(f"{NEW}?from=irc-2021")
    answer = browser.send(page, NEW, typed)
    assert answer.status_code == 422
    if sentence != "form.needed":
        assert sentence in answer.text
    assert not wall.snapshot().own_limits


def test_a_wrong_line_is_named_as_it_stands(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    text = text_of("irc-2021").replace('most = "7 3/4"', 'most = "about 8"')
    answer = browser.send(browser.get(f"{NEW}?from=irc-2021"), NEW, {"text": text})
    assert answer.status_code == 422
    assert "The line says: most = &#34;about 8&#34;" in answer.text
    assert "about 8" in answer.text


def test_the_same_form_sent_twice_keeps_one_copy(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get(f"{NEW}?from=irc-2021")
    first, second = (browser.send(page, NEW) for _ in range(2))
    assert first.headers["location"] == second.headers["location"]
    assert len(wall.snapshot().own_limits) == 1


def test_a_crew_does_not_edit_limits(wall: Wall) -> None:
    crew = wall.browser("Ore Street Metal lead")
    assert crew.status("/figures/limits") == 403
    assert crew.post(NEW, {"name": "x", "text": text_of("irc-2021")}).status_code == 403


def rows(browser: Browser, there: str) -> dict[str, list[str]]:
    """The limits of a profile as its page lists them."""
    found = browser.get(there).select("tbody tr")
    return {str(tr["id"]): [cell.get_text(strip=True) for cell in tr.select("td")] for tr in found}


def test_one_limit_is_changed_with_its_section_and_tag(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser, name="Elm Hill adopted")
    page = browser.get(there)
    assert page.select_one(f'tbody a[href="{there}/riser"]')
    form = browser.get(f"{there}/riser")
    assert form.select_one("#most")["value"] == "7 3/4"  # type: ignore[index]
    typed: dict[str, str | list[str]] = {"most": "7 1/2", "section": "12.1", "tag": "R"}
    assert browser.send(form, f"{there}/riser", typed).status_code == 303
    assert rows(browser, there)["riser"] == [
        "at most 7 1/2 in", "12.1", "read in the source's own text",
    ]  # fmt: skip


def test_a_limit_is_taken_out_and_filled_in_again(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser)
    where = f"{there}/handrail_from"
    (_, out) = browser.get(where).select("main form")
    assert browser.post(where, dict(fields_of(out))).status_code == 303  # type: ignore[arg-type]
    assert "handrail_from" not in rows(browser, there)
    assert browser.get(there).select_one(f'details a[href="{where}"]')
    browser.send(browser.get(where), where, {"least": "3"})
    assert rows(browser, there)["handrail_from"][0] == "at least 3"


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"most": "about 8"}, "most"),
        ({"most": ""}, "most"),
        ({"least": "-1"}, "least"),
        ({"least": "9"}, "least"),
        ({"unit": "lb"}, "unit"),
        ({"tag": "X"}, "tag"),
    ],
)
def test_what_is_no_limit_is_said_beside_its_field_and_kept(
    wall: Wall, typed: dict[str, str | list[str]], field: str
) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser)
    before = wall.snapshot().own_limits
    answer = browser.send(browser.get(f"{there}/riser"), f"{there}/riser", typed)
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one(f"#{field}-e")
    if field in typed and field not in ("unit", "tag"):
        assert page.select_one(f"#{field}")["value"] == typed[field]  # type: ignore[index]
    assert wall.snapshot().own_limits == before


def test_a_limit_in_millimeters_stays_one(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser)
    browser.send(browser.get(f"{there}/riser"), f"{there}/riser", {"most": "190.5", "unit": "mm"})
    assert rows(browser, there)["riser"][0] == "at most 190.5 mm"


def test_nobody_changes_one_limit_of_what_ships_or_of_a_name_that_is_none(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser)
    assert browser.status("/figures/limits/irc-2021/riser") == 404
    assert browser.status(f"{there}/beard") == 404


def test_two_people_do_not_overwrite_each_other(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    there = copied(browser)
    early = browser.get(f"{there}/riser")
    browser.send(browser.get(f"{there}/tread"), f"{there}/tread", {"least": "11"})
    answer = browser.send(early, f"{there}/riser", {"most": "7 1/2"})
    assert answer.status_code == 409
    assert rows(browser, there)["tread"][0] == "at least 11 in"
