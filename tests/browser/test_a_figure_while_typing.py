"""A figure redraws while a number is typed, in the same page; without a script by a press."""

from urllib.parse import parse_qs, urlencode, urlsplit

from server.pages.figures.routes import FIGURES
from tests.browser.conftest import House, Phone
from tests.browser.test_a_check_at_the_wall import as_super
from tests.pages.kept_figures.test_stack_of_checks import STACK


def test_typing_redraws_without_a_load_and_the_address_follows(phone: Phone, house: House) -> None:
    page = as_super(phone, house)
    page.goto(f"{house.base_url}/figures/stairs")
    page.evaluate("window.stayed = true")
    page.fill("#count", "")
    page.fill("#rise", "105")
    page.wait_for_selector(".answer b:text-is('7 1/2 in')")
    assert page.evaluate("window.stayed && document.activeElement.id") == "rise"
    assert parse_qs(urlsplit(page.url).query)["rise"] == ["105"]
    page.wait_for_selector("#said:has-text('Riser, finished 7 1/2 in')", state="attached")


def test_what_is_wrong_comes_beside_its_field_and_goes_again(phone: Phone, house: House) -> None:
    page = as_super(phone, house)
    page.goto(f"{house.base_url}/figures/stairs")
    page.fill("#rise", "9' 14")
    page.wait_for_selector("#rise-e:has-text('12 inches or more')")
    assert page.input_value("#rise") == "9' 14"
    assert page.locator(".answer").count() == 0
    page.fill("#rise", "9' 4")
    page.wait_for_selector(".answer")
    assert page.locator("#rise-e").inner_text() == ""


def test_without_a_script_the_press_works_it_out(phone: Phone, house: House) -> None:
    page = as_super(phone, house, javascript=False)
    page.goto(f"{house.base_url}/figures/stairs")
    page.fill("#rise", "105")
    page.click("text=Work it out")
    assert page.locator(".answer b:text-is('7 1/2 in')").count() > 0
    page.click("text=Show in millimeters")
    assert page.input_value("#rise") == "2667"


def test_every_figure_fits_its_screen_and_one_sheet_of_paper(phone: Phone, house: House) -> None:
    page = as_super(phone, house)
    by_check = f"/figures/stack?{urlencode(STACK)}"
    for href in (*(figure.href for figure in FIGURES), by_check):
        page.goto(house.base_url + href)
        for width in (320, 390, 1280):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, href
        paper = page.pdf(format="Letter", prefer_css_page_size=True)
        assert paper.count(b"/Type /Page\n") == 1, href
