"""Finding while typing, and without a script by a press."""

from tests.browser.conftest import House, Phone
from tests.browser.test_a_check_at_the_wall import as_super


def test_what_is_found_follows_the_typing(phone: Phone, house: House) -> None:
    page = as_super(phone, house)
    page.goto(f"{house.base_url}/find")
    page.keyboard.type("hang bo")
    page.wait_for_selector("#work + ol a:text-is('Hang board')")
    page.keyboard.type("xyz")
    page.wait_for_selector("#found .empty")
    assert "hang boxyz" in page.locator("#found .empty").inner_text()


def test_without_a_script_the_press_finds(phone: Phone, house: House) -> None:
    page = as_super(phone, house, javascript=False, width=1280)
    page.fill("nav input[name=q]", "hang bo")
    page.keyboard.press("Enter")
    page.locator("#work + ol a", has_text="Hang board").click()
    assert page.locator("h1").inner_text() == "Hang board"
