"""Finding: by everybody's rights, with words and without, each result leading to its page."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from server.core.changes.kept_figures import KeepFigure
from server.core.world import Given
from tests.pages.at_the_wall import CHECK, Browser, Wall, garden_rail
from tests.worlds import HOUR, PROJECT, World, actor


@pytest.fixture
def two_details(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """With a detail that is none of Ore Street Metal's, nor given to Lou Vance."""
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, with_landing(garden_rail())) as served:
        yield served


def with_landing(world: World) -> World:
    made = world.with_detail("Landing glass", sheet="D4").with_task(
        "Glass board", HOUR, crew="Ninepail Plaster"
    )
    given = next(g for g in made.snapshot().given.values() if g.person_id == "lou-vance")
    assert isinstance(given, Given)
    return made.put(replace(given, detail_ids=("garden-stair-rail",)))


def names(page: BeautifulSoup, group: str = "") -> list[str]:
    """The names found, all or of one group."""
    heading = page.select_one(f"h2#{group}") if group else None
    if group and heading is None:
        return []
    inside = heading.find_next("ol") if heading else page
    assert inside
    return [a.text for a in inside.select("li p a")]  # type: ignore[union-attr]


def found(browser: Browser, typed: str, **headers: str) -> BeautifulSoup:
    return browser.get(f"/find?q={typed}", **headers)


def test_a_check_is_found_with_its_detail_and_state_and_leads_there(wall: Wall) -> None:
    page = found(wall.browser("Rufus Orme"), "height")
    one = page.select_one("#checks + ol li")
    assert one
    assert one.a
    assert one.a["href"] == CHECK
    assert "Garden stair rail" in one.text
    assert "to check" in one.text


def test_work_says_its_crew_and_when(wall: Wall) -> None:
    one = found(wall.browser("Rufus Orme"), "hang").select_one("#work + ol li")
    assert one
    assert one.a
    assert one.a["href"] == "/d/garden-stair-rail/a/hang-board"
    assert "Ninepail Plaster · coming tomorrow" in one.text.replace("\u00a0", " ")


def test_the_super_finds_crews_places_people_and_drawings(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    assert names(found(browser, "ore street"), "crews") == ["Ore Street Metal"]
    assert names(found(browser, "garden"), "places") == ["Garden stair"]
    assert names(found(browser, "lou"), "people") == ["Lou Vance"]
    assert names(found(browser, "a402"), "drawings") == ["A-402 · Garden stair"]


def test_whatever_is_found_leads_to_a_page_that_opens(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    pages = [found(browser, typed) for typed in ("garden", "ore", "lou", "a", "board")]
    hrefs = {str(a["href"]).partition("#")[0] for page in pages for a in page.select("li p a")}
    assert len(hrefs) > 8
    assert [href for href in hrefs if browser.status(href) != 200] == []


@pytest.mark.parametrize("person", ["Ore Street Metal lead", "Lou Vance"])
def test_nobody_finds_what_they_may_not_see(two_details: Wall, person: str) -> None:
    page = found(two_details.browser(person), "glass")
    assert names(page) == []
    assert "Landing glass" not in page.text
    assert "1 detail," in page.text


@pytest.mark.parametrize("person", ["Ore Street Metal lead", "Lou Vance"])
def test_crews_people_and_places_are_the_supers_to_find(two_details: Wall, person: str) -> None:
    page = found(two_details.browser(person), "a")
    assert names(page)
    assert not page.select("#crews, #people, #places")


def test_the_super_finds_in_both(two_details: Wall) -> None:
    assert names(found(two_details.browser("Rufus Orme"), "glass"), "work") == ["Glass board"]


def test_nothing_found_says_so_and_what_was_looked_through(wall: Wall) -> None:
    main = found(wall.browser("Rufus Orme"), "zzz").select_one("main")
    assert main
    assert "Nothing is found for “zzz”." in main.text
    assert "1 detail, 5 pieces of work, 1 check, 3 crews, 1 place" in main.text
    assert "Quarry Road" in main.text


def test_before_anything_is_typed_there_are_details_to_begin_with(wall: Wall) -> None:
    page = wall.browser("Lou Vance").get("/find")
    assert [a["href"] for a in page.select("#found li a")] == ["/d/garden-stair-rail"]


def test_what_is_typed_stays_in_its_field_and_is_no_markup(wall: Wall) -> None:
    page = found(wall.browser("Rufus Orme"), "%3Cb%3E%22x%22")
    field = page.select_one("#q")
    assert field
    assert field["value"] == '<b>"x"'
    assert not page.select("#found b")


def test_while_typing_only_what_was_found_comes(wall: Wall) -> None:
    page = found(wall.browser("Rufus Orme"), "board", **{"HX-Request": "true"})
    assert names(page)
    assert not page.select("html, form")


def test_a_group_with_many_leads_to_all_of_it(tmp_path: Path, migrated_sqlite: Path) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    world = garden_rail()
    for number in range(20):
        world = world.with_task(f"Batten {number}", HOUR)
    with Wall.served(tmp_path, world) as wall:
        browser = wall.browser("Rufus Orme")
        page = found(browser, "batten")
        assert len(names(page, "work")) == 6
        more = page.select_one("h2#work a")
        assert more
        assert more.text == "All 20"
        assert len(names(browser.get(str(more["href"])), "work")) == 20


@pytest.mark.parametrize("person", ["Rufus Orme", "Ore Street Metal lead", "Lou Vance"])
def test_the_head_of_a_page_leads_there(wall: Wall, person: str) -> None:
    page = wall.browser(person).get("/d/garden-stair-rail")
    assert page.select_one('.person a[href="/find"]')
    assert page.select_one('nav form[action="/find"] input[name="q"]')


def test_a_house_is_named_where_there_are_several(wall: Wall) -> None:
    snapshot = wall.snapshot()
    assert len(snapshot.projects) == 1
    page = found(wall.browser("Rufus Orme"), "hang")
    assert snapshot.projects[PROJECT].name not in str(page.select_one("#work + ol"))


def test_a_kept_figure_is_found_with_its_kind_and_leads_to_its_page(wall: Wall) -> None:
    keep = KeepFigure(id="reveal", detail_id="garden-stair-rail", figure="standoffs",
                      name="Reveal under the rail", inputs="units=in")  # fmt: skip
    wall.store.apply(actor(wall.snapshot()), PROJECT, keep)
    page = wall.browser("Rufus Orme").get("/find?q=reveal")
    link = page.select_one('main a[href="/d/garden-stair-rail/figures/reveal"]')
    assert link is not None
    assert "Rail stand-offs" in page.select_one("main").text  # type: ignore[union-attr]
