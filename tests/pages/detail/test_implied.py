"""What the layers say of the order and the plan does not: drawn and mended on its page."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import NOW, Browser, Wall
from tests.worlds import DAY, HOUR, World, a_project, on

PAGE = "/d/stair-wall"
MEND = "/p/quarry-road/mend"


def stair_wall() -> World:
    """Two sides; on the stair side a wire, its trial and its check, on the hall side a batt.

    Board is hung over the wire with nobody's order but the frame's; the hall side's batt is drawn
    after the board that hides it.
    """
    return (
        a_project()
        .with_changed("Tallow Creek", frozen_at=NOW)
        .with_crew("Ninepail Plaster", trade="plaster")
        .with_person("Lou Vance", title="owner's rep")
        .with_detail("Stair wall")
        .with_layer("Studs", material="wood")
        .with_layer("Wire", material="wire", within_id="studs")
        .with_layer("Board", material="board")
        .with_task("Frame", 4 * HOUR, puts_in="Studs", started=on("Dec 1"), finished=on("Dec 2"))
        .with_task("Run wire", DAY, after="Frame", puts_in="Wire")
        .with_task("Try the circuit", HOUR, after="Run wire")
        .with_effect("Try the circuit", "needs open", "Wire")
        .with_check("Wire in place", after="Run wire", layers="Wire")
        .with_task("Hang board", DAY, crew="Ninepail Plaster", after="Frame", puts_in="Board",
                   covers="Studs")
        .with_side("Hall side")
        .with_layer("Hall studs", material="wood")
        .with_layer("Batts", material="batt", within_id="hall-studs")
        .with_layer("Hall board", material="board")
        .with_layer("Hall coat", material="plaster")
        .with_task("Frame the hall", DAY, after="Frame", puts_in="Hall studs")
        .with_task("Hang hall board", DAY, after="Frame the hall", puts_in="Hall board",
                   covers="Hall studs")
        .with_task("Lay batts", DAY, after="Hang hall board", puts_in="Batts")
        .with_task("Coat the hall", DAY, puts_in="Hall coat", covers="Hall board")
    )  # fmt: skip


def in_order() -> World:
    """The stair side alone, with its order in the plan."""
    return (
        a_project()
        .with_changed("Tallow Creek", frozen_at=NOW)
        .with_detail("Stair wall")
        .with_layer("Studs", material="wood")
        .with_layer("Board", material="board")
        .with_task("Frame", DAY, puts_in="Studs")
        .with_task("Hang board", DAY, after="Frame", puts_in="Board", covers="Studs")
    )


@pytest.fixture
def wall(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The stair wall on Dec 3, on SQLite."""
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, stair_wall()) as served:
        yield served


def said(page: BeautifulSoup) -> dict[str, Tag]:
    """Each sentence with its entry."""
    entries = page.select('li[id^="said-"]')
    return {one.select_one("p").text: one for one in entries}  # type: ignore[union-attr]


def pressed(browser: Browser, words: str) -> None:
    """Presses what mends the entry with these words, and agrees to what it pushes."""
    page = browser.get(PAGE)
    for text, entry in said(page).items():
        if words not in text:
            entry.decompose()
    shown = BeautifulSoup(browser.send(page, MEND).text, "html.parser")
    assert browser.send(shown, MEND).status_code == 303


def test_what_nobody_drew_is_drawn_side_by_side_and_said_with_the_same_numbers(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(PAGE)
    assert list(said(page)) == [
        "Board covers Wire: “Try the circuit” comes first, and the plan does not say so.",
        "Board covers Wire: “Wire in place” comes first, and the plan does not say so.",
        "Hall coat covers Hall board: “Hang hall board” comes first, and the plan does not say so.",
        "Hall board covers Batts: “Lay batts” comes first, and the plan says the opposite.",
    ]
    drawings = page.select("svg.oa")
    numbers = [[text.text for text in svg.select(".oa-chip + text")] for svg in drawings]
    assert numbers == [["1", "2"], ["3", "4"]]
    marks = [mark.text for mark in page.select(".oa-mark")]
    assert marks == ["1", "2", "3", "4"]


def test_what_the_plan_contradicts_is_barred_in_the_drawing_and_in_the_list(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(PAGE)
    assert len(page.select("svg.oa .oa-bar")) == 1
    barred = [text for text, entry in said(page).items() if entry.select_one(".oa-bar")]
    assert [text for text in barred if "says the opposite" in text] == barred
    assert len(barred) == 1


def test_a_task_that_works_within_a_layer_is_named_and_a_check_has_its_peg(wall: Wall) -> None:
    drawing = wall.browser("Rufus Orme").get(PAGE).select("svg.oa")[0]
    assert "1 Try the circuit" in [text.text for text in drawing.select(".bu-label text")]
    assert len(drawing.select(".pg")) == 1


def test_one_fact_is_said_once_on_the_page_and_stays_on_the_morning_sheet(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get(PAGE)
    kinds = " ".join(kind.text for kind in page.select(".notes .kind"))
    assert "Order that nobody drew" not in kinds
    assert "Order drawn the wrong way round" not in kinds
    morning = " ".join(kind.text for kind in browser.get("/").select(".notes .kind"))
    assert morning.count("Order that nobody drew") == 3
    assert morning.count("Order drawn the wrong way round") == 1


def test_a_press_puts_it_into_the_plan_and_the_arrow_is_gone(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    before = said(browser.get(PAGE))
    pressed(browser, "Wire in place")
    drawn = wall.snapshot().dependencies.values()
    assert ("wire-in-place", "hang-board") in {(d.before_id, d.after_id) for d in drawn}
    assert set(before) - set(said(browser.get(PAGE))) == {
        "Board covers Wire: “Wire in place” comes first, and the plan does not say so."
    }


def test_a_press_turns_round_what_the_plan_contradicts(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    pressed(browser, "says the opposite")
    drawn = {(d.before_id, d.after_id) for d in wall.snapshot().dependencies.values()}
    assert ("lay-batts", "hang-hall-board") in drawn
    assert ("hang-hall-board", "lay-batts") not in drawn


@pytest.mark.parametrize("person", ["Ninepail Plaster lead", "Lou Vance"])
def test_only_the_super_is_shown_it(wall: Wall, person: str) -> None:
    page = wall.browser(person).get(PAGE)
    assert not page.select("svg.oa")
    assert not page.select("#layers-say")


def test_an_order_that_the_plan_says_shows_nothing(tmp_path: Path, migrated_sqlite: Path) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, in_order()) as wall:
        page = wall.browser("Rufus Orme").get(PAGE)
        assert page.select("svg.bu")
        assert not page.select("svg.oa")
        assert not page.select("#layers-say")


def test_where_no_one_press_helps_the_plan_is_a_press_away(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    world = (
        stair_wall()
        .with_task("Pull tape", HOUR, after="Hang hall board")
        .with_dependency("Pull tape", "Lay batts")
    )
    with Wall.served(tmp_path, world) as wall:
        entries = said(wall.browser("Rufus Orme").get(PAGE))
        (opposite,) = (entry for text, entry in entries.items() if "says the opposite" in text)
        assert opposite.select_one("form") is None
        assert opposite.select_one(f'a[href="{PAGE}/plan"]') is not None


def test_a_cover_that_puts_in_no_layer_is_named_by_its_task(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    world = in_order().with_task("Close the soffit", HOUR, covers="Board")
    with Wall.served(tmp_path, world) as wall:
        page = wall.browser("Rufus Orme").get(PAGE)
        (text,) = said(page)
        assert text.startswith("“Close the soffit” covers Board: “Hang board” comes first")
        labels = [line.text for line in page.select("svg.oa .bu-label text")]
        assert "1 Close the soffit" in labels
