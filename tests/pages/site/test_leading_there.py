"""The house, the morning sheet and a detail lead to what stands around the work."""

import pytest

from tests.pages.at_the_wall import Wall

HOUSE = "/p/quarry-road"


@pytest.mark.parametrize("path", ["/", HOUSE])
@pytest.mark.parametrize("screen", ["deliveries", "decisions", "temporaries", "readings"])
def test_the_super_gets_there_from_the_sheet_and_from_the_house(
    stair: Wall, path: str, screen: str
) -> None:
    rufus = stair.browser("Rufus Orme")
    link = rufus.get(path).select_one(f'a[href="{HOUSE}/{screen}"]')
    assert link is not None
    assert rufus.status(str(link["href"])) == 200


@pytest.mark.parametrize("person", ["Rufus Orme", "Ore Street Metal lead", "Lou Vance"])
def test_a_detail_leads_to_its_drawings(stair: Wall, person: str) -> None:
    browser = stair.browser(person)
    page = browser.get("/d/garden-stair-rail")
    assert page.select_one('a[href="/d/garden-stair-rail/drawings"]') is not None


def test_a_detail_without_drawings_leads_the_super_to_name_one(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get("/d/main-flight")
    assert page.select_one('a[href="/d/main-flight/drawings"]') is not None
    theirs = stair.browser("Lou Vance").get("/d/main-flight")
    assert theirs.select_one('a[href="/d/main-flight/drawings"]') is None


@pytest.mark.parametrize("screen", ["deliveries", "decisions", "temporaries", "readings"])
def test_each_leads_back_to_the_house(stair: Wall, screen: str) -> None:
    page = stair.browser("Rufus Orme").get(f"{HOUSE}/{screen}")
    assert page.select_one(f'header a[href="{HOUSE}"]') is not None
