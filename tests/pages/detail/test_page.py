"""The page of a detail, by who looks at it."""

import shutil
from pathlib import Path

from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import CHECK, WITHIN, Wall, garden_rail
from tests.pages.check.test_deciding import marked
from tests.worlds import on

PAGE = "/d/garden-stair-rail"


def part(page: BeautifulSoup, selector: str) -> Tag:
    found = page.select_one(selector)
    assert found is not None, selector
    return found


def test_the_page_says_the_finish_against_what_was_promised(wall: Wall) -> None:
    # Promised for Saturday, forecast for Sunday: no working day lies between.
    head = part(wall.browser("Rufus Orme").get(PAGE), "header.top")
    assert "as promised" in head.text


def test_later_than_promised_is_said_in_working_days(tmp_path: Path, migrated_sqlite: Path) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    # Promised for Wednesday, forecast for Sunday: Thursday and Friday lie between.
    world = garden_rail().with_changed("agreed", finish=on("Dec 3 12:00"))
    with Wall.served(tmp_path, world) as wall:
        head = part(wall.browser("Rufus Orme").get(PAGE), "header.top")
        assert "2 days later than promised" in head.text


def test_the_page_says_when_the_layers_disappear_and_what_is_open(wall: Wall) -> None:
    said = part(wall.browser("Rufus Orme").get(PAGE), ".countdown").text
    assert "Stand-offs" in said
    assert "tomorrow\u00a07\u00a0am" in said


def test_the_build_up_is_said_in_words_layer_by_layer(wall: Wall) -> None:
    desc = part(wall.browser("Rufus Orme").get(PAGE), "figure.buildup desc").text
    assert "Stand-offs: 1–7, runs through to the face, in the open" in desc
    assert "Board: 1/2\u00a0in, to come, next: Ninepail Plaster" in desc


def test_a_peg_leads_to_its_check(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(PAGE)
    assert part(page, f'figure.buildup a[href="{CHECK}"]')["aria-label"]


def test_the_crew_is_led_to_its_check(wall: Wall) -> None:
    press = part(wall.browser("Ore Street Metal lead").get(PAGE), "a.big")
    assert press["href"] == CHECK
    assert "ready to look at" in press.text


def test_the_super_is_led_to_the_check_that_was_marked(wall: Wall) -> None:
    press = part(marked(wall, WITHIN).get(PAGE), "a.big")
    assert press["href"] == CHECK
    assert "with 7 numbers, 1 photo" in press.text


def test_the_current_drawing_stands_with_its_revision(wall: Wall) -> None:
    assert "A-402, revision C" in wall.browser("Rufus Orme").get(PAGE).text


def test_only_the_super_is_led_to_the_plan(wall: Wall) -> None:
    plan = f'a[href="{PAGE}/plan"]'
    assert wall.browser("Rufus Orme").get(PAGE).select_one(plan) is not None
    assert wall.browser("Ninepail Plaster lead").get(PAGE).select_one(plan) is None


def test_the_cautions_stand_on_the_page(wall: Wall) -> None:
    assert "licensed engineer" in part(wall.browser("Rufus Orme").get(PAGE), ".caution").text


def test_a_detail_that_is_not_there_is_not_found(wall: Wall) -> None:
    assert wall.browser("Rufus Orme").status("/d/nothing") == 404


def test_a_check_after_the_board_is_not_about_to_be_hidden_by_it(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    world = garden_rail().with_check(
        "Nothing knocked", after="Hang board", layers="Stand-offs", marks="Ninepail Plaster"
    )
    with Wall.served(tmp_path, world) as wall:
        box = wall.browser("Rufus Orme").get("/d/garden-stair-rail").select_one(".countdown")
        assert box is not None
        assert "Height" in box.text
        assert "Nothing knocked" not in box.text
