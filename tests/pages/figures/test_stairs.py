"""The figures of stairs on the web: from the address, in inches and millimeters, never nonsense."""

from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import Browser, Wall

HTMX = {"HX-Request": "true"}
OF_NOW = ("Rufus Orme", "Ore Street Metal lead", "Lou Vance")


def page_of(browser: Browser, figure: str = "stairs", **typed: str) -> BeautifulSoup:
    return browser.get(f"/figures/{figure}?{urlencode(typed)}")


def refused(browser: Browser, figure: str = "stairs", **typed: str) -> BeautifulSoup:
    answer = browser.client.get(f"/figures/{figure}?{urlencode(typed)}")
    assert answer.status_code == 422, answer.status_code
    return BeautifulSoup(answer.text, "html.parser")


def answers(page: BeautifulSoup) -> dict[str, str]:
    return {
        dt.text: dt.find_next("dd").text.strip()  # type: ignore[union-attr]
        for dt in page.select(".answer dt")
    }


def value(page: BeautifulSoup, name: str) -> str:
    field = page.select_one(f"#{name}")
    assert isinstance(field, Tag), name
    return field.text.strip() if field.name == "textarea" else str(field.get("value", ""))


def said(page: BeautifulSoup, name: str) -> str:
    beside = page.select_one(f"#{name}-e")
    assert beside, name
    return beside.text


@pytest.mark.parametrize("person", OF_NOW)
def test_everybody_who_is_signed_in_gets_the_figures(wall: Wall, person: str) -> None:
    browser = wall.browser(person)
    links = [str(a["href"]) for a in browser.get("/figures").select("main li a")]
    assert "/figures/stairs" in links
    for link in links:
        assert browser.get(link).select(".answer dd"), link


def test_nobody_else_does(wall: Wall) -> None:
    answer = wall.client.get("/figures/stairs?rise=108", follow_redirects=False)
    assert answer.status_code == 303
    assert "rise%3D108" in answer.headers["location"]


def test_the_classic_mistake_is_said_with_its_numbers(wall: Wall) -> None:
    page = page_of(
        wall.browser("Ore Street Metal lead"), rise="105", count="14", tread="1",
        floor_below="3/4", floor_above="3/4",
    )  # fmt: skip
    found = answers(page)
    assert found["First, as cut"] == "7 1/4 in"
    assert found["Rest, as cut"] == "7 1/2 in"
    assert found["Last, as cut"] == "7 3/4 in"
    note = page.select_one(".note")
    assert note
    assert "differ by 1/2 in" in note.text
    beyond = " ".join(one.text for one in page.select(".held .beyond"))
    assert "over by 1/8 in" in beyond
    assert "R311.7.5.1" in beyond
    assert "from memory: look it up" in beyond


def test_what_is_typed_as_a_tape_reads_is_taken(wall: Wall) -> None:
    page = page_of(wall.browser("Rufus Orme"), rise="8' 11 1/4”", count="14")
    assert answers(page)["Riser, finished"].startswith("7 11/16 in")
    assert value(page, "rise") == "8' 11 1/4”"


def test_the_exact_value_stands_beside_the_rounded_one(wall: Wall) -> None:
    page = page_of(wall.browser("Rufus Orme"), rise="107 1/4", count="14")
    assert answers(page)["Riser, finished"] == "7 11/16 in 7.661 in"


def test_the_cautions_stand_beside_the_result(wall: Wall) -> None:
    page = page_of(wall.browser("Rufus Orme"))
    caution = page.select_one(".caution")
    assert caution
    assert "not for design" in caution.text
    assert "licensed engineer" in caution.text
    assert "1926" in caution.text
    for word in ("safe ", "complies", "compliant"):
        assert word not in page.select_one("main").text.lower()  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"rise": "9' 14"}, "rise", "12 inches or more after the feet"),
        ({"rise": "108,5"}, "rise", "has a comma"),
        ({"rise": "2743"}, "rise", "mm?"),
        ({"rise": ""}, "rise", "Type the number"),
        ({"rise": "0"}, "rise", "more than 0"),
        ({"rise": "-108"}, "rise", "more than 0"),
        ({"rise": "1/0"}, "rise", "0 under the line"),
        ({"rise": "8 ft 2000000 in"}, "rise", "12 inches or more"),
        ({"rise": "<b>high</b>"}, "rise", "not a number"),
        ({"count": "0"}, "count", "between 1 and 60"),
        ({"count": "3.5"}, "count", "not a count"),
        ({"count": "", "wanted_riser": ""}, "count", "how many risers"),
        ({"tread": "-1"}, "tread", "less than 0"),
        ({"nosing": "12"}, "nosing", "less than the tread depth"),
        ({"measured": "somewhere"}, "measured", "none of the choices"),
        ({"limits": "another-company"}, "limits", "none of the choices"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field_and_kept(
    wall: Wall, typed: dict[str, str], field: str, sentence: str
) -> None:
    page = refused(wall.browser("Rufus Orme"), **typed)
    assert sentence in said(page, field)
    assert not page.select(".answer")
    assert not page.select("svg.fig")
    if field not in ("measured", "limits"):
        assert value(page, field) == typed[field]


def test_several_mistakes_are_told_together(wall: Wall) -> None:
    page = refused(wall.browser("Rufus Orme"), rise="x", going="y")
    assert said(page, "rise")
    assert said(page, "going")


def test_htmx_gets_the_result_and_what_is_wrong_and_nothing_else(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    good = browser.client.get("/figures/stairs?rise=108", headers=HTMX)
    assert good.status_code == 200
    page = BeautifulSoup(good.text, "html.parser")
    assert page.select(".answer")
    assert not page.select("form, input, html")
    bad = browser.client.get("/figures/stairs?rise=x", headers=HTMX)
    assert bad.status_code == 422
    beside = BeautifulSoup(bad.text, "html.parser").select_one("#rise-e")
    assert beside
    assert beside["hx-swap-oob"] == "true"
    assert "not a number" in beside.text


def test_the_address_holds_its_units_whoever_opens_it(wall: Wall) -> None:
    page = page_of(wall.browser("Rufus Orme"), units="mm", rise="2800", going="260", count="15")
    assert answers(page)["Riser, finished"] == "187 mm 186.67 mm"
    assert value(page, "rise") == "2800"


def test_the_switch_keeps_the_persons_units_and_turns_what_was_typed(wall: Wall) -> None:
    browser = wall.browser("Ore Street Metal lead")
    typed = {"units": "in", "to": "mm", "rise": "105", "count": "14", "going": "10 1/2"}
    answer = browser.post("/figures/stairs/units", typed)
    assert answer.status_code == 303
    there = urlsplit(answer.headers["location"])
    assert parse_qs(there.query)["rise"] == ["105"]
    page = browser.get(answer.headers["location"])
    assert value(page, "rise") == "2667"
    assert value(page, "going") == "266.7"
    assert answers(page)["Riser, finished"] == "191 mm 190.5 mm"
    units = page.select_one("input[name=units]")
    assert units
    assert units["value"] == "mm"
    # from now on their own pages begin in millimeters
    assert "mm" in answers(page_of(browser))["Riser, finished"]
    back = browser.get(f"/figures/stairs?{urlencode({'units': 'mm', 'to': 'in', 'rise': '2667'})}")
    assert value(back, "rise") == "105"


def test_units_that_nobody_reads_are_refused(wall: Wall) -> None:
    answer = wall.browser("Rufus Orme").post("/figures/stairs/units", {"to": "ell"})
    assert answer.status_code == 422


def test_a_figure_that_is_none_is_not_there(wall: Wall) -> None:
    assert wall.browser("Rufus Orme").status("/figures/gutters") == 404


def test_on_paper_stands_what_was_given(wall: Wall) -> None:
    page = page_of(wall.browser("Rufus Orme"), rise="105", count="14")
    given = {dt.text: dt.find_next("dd").text for dt in page.select(".given dt")}  # type: ignore[union-attr]
    assert given["Total rise"] == "105 in"
    assert given["Limits"] == "IRC 2021 figures"
    assert given["Measured from"] == "finished floor to finished floor"


def test_document_k_judges_in_its_own_millimeters(wall: Wall) -> None:
    page = page_of(
        wall.browser("Rufus Orme"), limits="approved-document-k-2013", rise="105", count="14"
    )
    held = page.select_one(".held")
    assert held
    assert "150 mm to 220 mm (5.906 in to" not in held.text
    assert "150 mm (5.906 in) to 220 mm (8.661 in)" in held.text
    assert "Check the adopted local text" in page.text


def test_measured_risers_are_read_line_by_line(wall: Wall) -> None:
    browser = wall.browser("Ore Street Metal lead")
    page = page_of(browser, "measured", measured="7 1/2\n7 7/8\n\n7 5/8")
    assert answers(page)["Largest less smallest"] == "3/8 in"
    wrong = refused(browser, "measured", measured="7 1/2\n7 1/0\n7 5/8")
    assert "Line 2" in said(wrong, "measured")
    assert value(wrong, "measured") == "7 1/2\n7 1/0\n7 5/8"
    assert "at least two" in said(refused(browser, "measured", measured="7 1/2"), "measured")


@pytest.mark.parametrize(
    ("figure", "typed", "field", "sentence"),
    [
        ("winders", {"radius": "17"}, "radius", "smaller than half the clear width"),
        ("winders", {"turn": "800"}, "turn", "between 1° and 720°"),
        ("winders", {"winders": "0"}, "winders", "between 1 and 60"),
        ("winders", {"walkline_from": "40"}, "walkline_from", "within the clear width"),
        ("winders", {"radii": "20\nx"}, "radii", "Line 2"),
        ("jig", {"chord": "121"}, "chord", "longer than twice the radius"),
        ("jig", {"spacing": "1/16"}, "spacing", "more than 49 ordinates"),
        ("easing", {"easing": "0"}, "easing", "more than 0"),
    ],
)
def test_turns_that_cannot_be_are_refused(
    wall: Wall, figure: str, typed: dict[str, str], field: str, sentence: str
) -> None:
    page = refused(wall.browser("Rufus Orme"), figure, **typed)
    assert sentence in said(page, field)
    assert value(page, field) == typed[field]
