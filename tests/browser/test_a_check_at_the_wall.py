"""Seven numbers and a photo are marked on a phone; the super says OK to all but No. 3."""

from typing import Any

import pytest

from tests.browser.conftest import PASSWORD, House, Phone
from tests.pages.at_the_wall import CHECK, THIRD_HIGH

DETAIL = "/d/garden-stair-rail"


def as_crew(phone: Phone, house: House, **ways: Any) -> Any:
    page = phone(**ways)
    page.goto(house.crew_link)
    page.locator("main button").click()
    page.wait_for_url("**/me")
    return page


def as_super(phone: Phone, house: House, **ways: Any) -> Any:
    page = phone(**ways)
    page.goto(f"{house.base_url}/sign-in")
    page.fill("#login", "rufus")
    page.fill("#password", PASSWORD)
    page.locator("main button").click()
    page.wait_for_url(f"{house.base_url}/")
    return page


def next_task(page: Any, house: House) -> str:
    """How "Hang board" stands in the order of work on somebody's screen."""
    page.goto(house.base_url + DETAIL)
    said = page.locator("ol.rope li", has_text="Hang board").locator(".who").inner_text()
    return " ".join(said.split())


def numbers(page: Any) -> Any:
    return page.locator(".m input")


@pytest.mark.parametrize("javascript", [True, False], ids=["with script", "without script"])
def test_a_crew_marks_and_the_super_says_ok_to_all_but_one(
    phone: Phone, house: House, javascript: bool
) -> None:
    crew = as_crew(phone, house, javascript=javascript)
    assert next_task(crew, house) == "Ninepail Plaster · coming tomorrow 7 am"
    crew.goto(house.base_url + CHECK)
    for index, typed in enumerate(THIRD_HIGH):
        numbers(crew).nth(index).fill(typed)
    if javascript:
        numbers(crew).nth(2).blur()
        crew.get_by_text("1/16 high").first.wait_for()
    crew.set_input_files("#photo", str(house.photo))
    if javascript:
        crew.locator('ul.ph img[src*="/photo/"]').first.wait_for()
    crew.get_by_role("button", name="Ready to look at").click()
    crew.get_by_text("Taken.").wait_for()

    rufus = as_super(phone, house, javascript=javascript)
    rufus.goto(house.base_url + CHECK)
    assert "1/16 high" in rufus.locator("main").inner_text()
    rufus.get_by_role("button", name="No. 3").click()
    rufus.get_by_text("Taken.").wait_for()

    for page in (crew, rufus):
        assert next_task(page, house) == "Ninepail Plaster · ready · coming tomorrow 7 am"


def test_a_check_is_marked_by_keyboard_alone(phone: Phone, house: House) -> None:
    crew = as_crew(phone, house)
    crew.goto(house.base_url + CHECK)
    crew.set_input_files("#photo", str(house.photo))
    crew.locator('ul.ph img[src*="/photo/"]').first.wait_for()
    numbers(crew).first.focus()
    for typed in THIRD_HIGH:
        crew.keyboard.type(typed)
        crew.keyboard.press("Tab")
    for _ in range(40):
        if crew.evaluate("document.activeElement.textContent.trim()") == "Ready to look at":
            break
        crew.keyboard.press("Tab")
    crew.keyboard.press("Enter")
    crew.get_by_text("Taken.").wait_for()
    crew.reload()
    assert "36 3/16" in crew.locator("main").inner_text()


def test_no_page_is_wider_than_a_small_phone(phone: Phone, house: House) -> None:
    rufus = as_super(phone, house, width=320)
    for path in ("/", DETAIL, CHECK, "/people", f"{DETAIL}/promise"):
        rufus.goto(house.base_url + path)
        assert rufus.evaluate("document.documentElement.scrollWidth") <= 320, path
