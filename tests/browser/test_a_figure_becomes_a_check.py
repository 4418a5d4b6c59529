"""On a phone the super fills in the stand-offs of a rail and ties them to their check; the crew's
seven heights are judged by the figure."""

from fractions import Fraction
from typing import Any

from tests.browser.conftest import House, Phone
from tests.browser.test_a_check_at_the_wall import as_crew, as_super
from tests.pages.at_the_wall import CHECK

FIGURES = "/d/garden-stair-rail/figures"
RISE, TREAD, TREADS = "7 1/2", "10", "13"
SPACING = "26"


def kept(phone: Phone, house: House, **ways: Any) -> Any:
    """The super's page of the figure, filled in from the detail's page and kept with it."""
    page = as_super(phone, house, **ways)
    page.goto(house.base_url + FIGURES)
    page.get_by_role("link", name="Rail stand-offs").click()
    for field, typed in (("rise", RISE), ("tread", TREAD), ("treads", TREADS), ("most", SPACING)):
        page.fill(f"#{field}", typed)
    if ways.get("javascript", True):
        page.locator("#result .answer").get_by_text("7", exact=True).wait_for()
    page.get_by_role("button", name="Keep it with Garden stair rail").click()
    page.wait_for_url("**/figures/*")
    return page


def heights_by_the_figure(page: Any) -> list[str]:
    """What the figure gives for each stand-off, as it stands beside the numbers of the check."""
    rows = page.locator("table.list tbody tr", has_text="Height, No.")
    return [row.locator("td").nth(1).inner_text() for row in rows.all()]


def test_the_stand_off_figure_is_tied_to_its_check_which_judges_seven_heights(
    phone: Phone, house: House
) -> None:
    page = kept(phone, house)
    assert page.locator("#check option").all_inner_texts() == ["Height"]
    page.get_by_role("button", name="Show its numbers beside these").click()
    given = heights_by_the_figure(page)
    assert len(given) == 7
    page.get_by_role("button", name="Take these numbers").click()
    page.get_by_text("Height has its numbers from it.").wait_for()

    crew = as_crew(phone, house)
    crew.goto(house.base_url + CHECK)
    boxes, verdicts = crew.locator(".m input"), crew.locator("output.verdict")
    for index, typed in enumerate(third_high(given)):
        boxes.nth(index).fill(typed)
        boxes.nth(index).blur()
        verdicts.nth(index).get_by_text("within" if index != 2 else "1/16 high").wait_for()


def third_high(given: list[str]) -> list[str]:
    """The seven heights just as the figure has them, the third 5/16 more: 1/16 too high."""
    nominals = [sum(map(Fraction, one.split(" ±")[0].split()), Fraction(0)) for one in given]
    nominals[2] += Fraction(5, 16)
    return [f"{value * 16}/16" for value in nominals]


def test_without_a_script_it_is_kept_and_given_to_the_check_on_the_smallest_phone(
    phone: Phone, house: House
) -> None:
    page = kept(phone, house, javascript=False, width=320)
    page.get_by_role("button", name="Show its numbers beside these").click()
    page.get_by_role("button", name="Take these numbers").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.get_by_role("button", name="Take these numbers").click()
    page.get_by_text("Height has its numbers from it.").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    for path in (FIGURES, CHECK):
        page.goto(house.base_url + path)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_a_release_shows_at_once_that_a_gap_is_to_leave_its_range(
    phone: Phone, house: House
) -> None:
    rufus = as_super(phone, house)
    rufus.goto(house.base_url + FIGURES)
    rufus.get_by_role("link", name="Stack of tolerances").click()
    rows = (("Stand-off", "1", "36", "1/8"), ("Rail", "-1", "35 3/4", "1/16"))
    for no, (name, counts, nominal, plus) in enumerate(rows, 1):
        rufus.fill(f"#name-{no}", name)
        rufus.select_option(f"#counts-{no}", counts)
        rufus.fill(f"#nominal-{no}", nominal)
        rufus.fill(f"#plus-{no}", plus)
    for left in (3, 2):  # the example has four parts
        rufus.get_by_role("button", name="Take part 3 away").click()
        rufus.locator("fieldset.part").nth(left).wait_for(state="detached")
    rufus.select_option("#by-1", label="Height: Height, part by part")
    rufus.fill("#least", "1/16")
    rufus.fill("#most", "5/16")
    rufus.get_by_role("button", name="Keep it with Garden stair rail").click()
    rufus.get_by_text("Gap as it stands: 1/4 in").wait_for()

    crew = as_crew(phone, house)
    crew.goto(house.base_url + CHECK)
    for no in range(7):
        crew.locator(".m input").nth(no).fill("36 1/8" if no == 4 else "36")
    crew.set_input_files("#photo", str(house.photo))
    crew.locator('ul.ph img[src*="/photo/"]').first.wait_for()
    crew.get_by_role("button", name="Ready to look at").click()
    crew.get_by_text("Taken.").wait_for()

    rufus.goto(house.base_url + CHECK)
    rufus.get_by_role("button", name="OK to cover").first.click()
    rufus.get_by_text("Taken.").wait_for()
    rufus.goto(house.base_url + "/d/garden-stair-rail")
    rufus.get_by_text("is to leave its range at No. 5").wait_for()
    rufus.get_by_role("link", name="Open the figure").click()
    rufus.get_by_text("out of tolerance").wait_for()
