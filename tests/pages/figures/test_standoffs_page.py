"""The page of rail stand-offs: both tables, the drawing, what is asked of the engineer."""

from urllib.parse import urlencode

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Browser, Wall, fields_of


@pytest.fixture
def super_(wall: Wall) -> Browser:
    return wall.browser("Rufus Orme")


def asked(browser: Browser, status: int = 200, /, **typed: str) -> BeautifulSoup:
    """The page with these fields typed."""
    path = "/figures/standoffs" + (f"?{urlencode(typed)}" if typed else "")
    answer = browser.client.get(path)
    assert answer.status_code == status, answer.text[:400]
    return BeautifulSoup(answer.text, "html.parser")


def table(page: BeautifulSoup, no: int) -> list[list[str]]:
    """The cells of a table, without its heads."""
    rows = page.select(".grid")[no].select("tbody tr")
    return [[cell.get_text(strip=True) for cell in row.select("th, td")] for row in rows]


def heads(page: BeautifulSoup, no: int) -> list[str]:
    return [head.get_text(strip=True) for head in page.select(".grid")[no].select("thead th")]


def wrong(page: BeautifulSoup) -> dict[str, str]:
    found = page.select("form .err")
    return {str(one["id"]): text for one in found if (text := one.get_text(strip=True))}


def said(page: BeautifulSoup) -> str:
    return " ".join(page.get_text(" ").split())


def test_framing_reads_studs_and_the_heights_of_blocking(super_: Browser) -> None:
    page = asked(super_)
    no, along, studs, *heights = table(page, 0)[0]
    assert (no, along, studs) == ("1", "6 3/8 in", "between 1 and 2")
    assert heights == ["46 3/8 in", "49 7/8 in", "47 3/8 in"]
    assert len(table(page, 0)) == 6


def test_metal_reads_the_rake_the_tread_and_the_rod_and_writes_the_wall(super_: Browser) -> None:
    page = asked(super_)
    assert table(page, 1)[1] == ["2", "37 5/16 in", "tread 3", "42 7/16 in", "", "3 3/4 in"]


def test_walls_as_measured_change_their_rods_alone(super_: Browser) -> None:
    page = asked(super_, walls="1 1/4\n1 3/8")
    assert [row[4:6] for row in table(page, 1)[:3]] == [
        ["1 1/4 in", "3 3/4 in"],
        ["1 3/8 in", "3 7/8 in"],
        ["", "3 3/4 in"],
    ]


def test_a_rod_that_is_given_says_what_thread_it_leaves(super_: Browser) -> None:
    page = asked(super_, rod="5 1/2", grip="2")
    assert heads(page, 1)[-2:] == ["Cut to, with thread", "Thread left"]
    assert table(page, 1)[0][-2:] == ["5 3/4 in", "1 3/4 in"]
    assert "Thread behind the stud face" in said(page.select(".held .beyond")[0])  # type: ignore[arg-type]


def test_the_engineer_is_asked_and_common_practice_is_called_so(super_: Browser) -> None:
    text = said(asked(super_))
    assert "Ask the engineer: each fixing takes 200 lb in any direction" in text
    assert "750 in·lb (85 N·m)" in text
    assert "a string from the first to the last within 1/16 in" in text
    assert "(common practice)" in text


def test_a_rail_too_high_is_beyond_its_limit_with_the_section(super_: Browser) -> None:
    (beyond,) = asked(super_, rail_height="39").select(".held .beyond")
    assert "over by 1 in" in said(beyond)  # type: ignore[arg-type]
    assert "R311.7.8" in said(beyond)  # type: ignore[arg-type]


def test_other_limits_are_chosen_in_the_form(super_: Browser) -> None:
    page = asked(super_, rail_height="35", limits="approved-document-k-2013")
    (beyond,) = page.select(".held .beyond")
    assert "Approved Document K" in said(beyond)  # type: ignore[arg-type]


def test_a_stand_off_at_the_edge_of_a_stud_is_said(super_: Browser) -> None:
    assert "No. 1 meets the edge of stud 1" in said(asked(super_, first_stud="7 1/4"))


def test_the_drawing_says_what_it_shows(super_: Browser) -> None:
    title = asked(super_).select_one("#result svg title")
    assert title is not None
    assert "6 stand-offs" in title.get_text()


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"treads": "0"}, "treads-e"),
        ({"treads": "2 1/2"}, "treads-e"),
        ({"rise": "0"}, "rise-e"),
        ({"rise": "7' 13\""}, "rise-e"),
        ({"plaster": "-3/4"}, "plaster-e"),
        ({"height_within": "-1/4"}, "height_within-e"),
        ({"first": "100", "last": "100"}, "last-e"),
        ({"most": "1/4"}, "most-e"),
        ({"stud_spacing": "1"}, "stud_spacing-e"),
        ({"rod_wide": "3"}, "rod_wide-e"),
        ({"walls": "1 1/4\nthick"}, "walls-e"),
        ({"shape": "oval"}, "shape-e"),
    ],
)
def test_what_is_mistyped_is_said_beside_its_field_and_kept(
    super_: Browser, typed: dict[str, str], field: str
) -> None:
    page = asked(super_, 422, **typed)
    assert list(wrong(page)) == [field]
    form = page.select_one("form.noprint")
    assert form is not None
    kept = {name: value for name, value in typed.items() if name not in ("shape", "walls")}
    assert kept.items() <= fields_of(form).items()
    assert not page.select(".grid")


def test_in_millimeters_it_begins_with_round_numbers(super_: Browser) -> None:
    page = asked(super_, to="mm")
    form = page.select_one("form.noprint")
    assert form is not None
    assert fields_of(form)["rise"] == "190"
    assert all(cell.endswith("mm") for cell in table(page, 0)[0] if cell[-1].isalpha())


def test_a_crew_reads_it_too(wall: Wall) -> None:
    assert len(table(asked(wall.browser("Ore Street Metal lead")), 0)) == 6
