"""The decisions of a house: owed by whom by when, worst first; the answered ones folded."""

from collections.abc import Callable
from dataclasses import replace
from urllib.parse import unquote

import pytest
from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import Wall
from tests.pages.site.reading_pages import said
from tests.pages.site.stair import LONG, around_the_stair
from tests.worlds import World, on

PAGE = "/p/quarry-road/decisions"
Serve = Callable[[World], Wall]


def row(page: BeautifulSoup, id: str) -> Tag:
    found = page.select_one(f"li#{id}")
    assert found is not None
    return found


def test_the_one_owed_first_stands_first_with_who_owes_it(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    assert [one["id"] for one in page.select("ol.goes > li")] == [
        "kind-of-tread",
        "color-of-the-rail",
    ]
    assert "Lou Vance : Color of the rail, Garden stair rail" in said(
        row(page, "color-of-the-rail")
    )
    assert "owner's rep" in said(row(page, "color-of-the-rail"))


def test_one_that_was_owed_on_a_day_gone_by_says_how_long_ago(serve: Serve) -> None:
    world = around_the_stair().with_changed("Hang rail", finish_by=on("Dec 2 9:00"))
    page = serve(world).browser("Rufus Orme").get(PAGE)
    late = said(row(page, "color-of-the-rail").select_one(".hl"))
    assert late == "was owed by Mon Dec 1, 2 working days ago"
    assert said(page.select_one(".count")).endswith("overdue")


def test_the_day_it_is_owed_and_the_work_that_waits_open_and_say_why(serve: Serve) -> None:
    world = around_the_stair().with_changed("Base coat dries", work=20 * 24 * 60)
    page = serve(world).browser("Rufus Orme").get(PAGE)
    folds = row(page, "color-of-the-rail").select("details.why > div")
    assert [str(fold["hx-get"]) for fold in folds] == [
        "/d/garden-stair-rail/a/color-of-the-rail/why",
        "/d/garden-stair-rail/a/hang-rail/why",
    ]
    assert "for hang rail, planned" in said(row(page, "color-of-the-rail"))


def test_whoever_owes_it_is_reached_with_a_ready_sentence(stair: Wall) -> None:
    presses = row(stair.browser("Rufus Orme").get(PAGE), "color-of-the-rail").select("a.press")
    assert [str(press["href"]).partition("?")[0] for press in presses] == [
        "tel:5550140",
        "sms:5550140",
        "/d/garden-stair-rail/a/color-of-the-rail",
    ]
    assert "“Color of the rail”, garden stair rail: we need" in unquote(str(presses[1]["href"]))


def test_nobody_named_is_said_and_can_still_be_answered(serve: Serve) -> None:
    world = around_the_stair().with_changed("Color of the rail", person_id=None)
    one = row(serve(world).browser("Rufus Orme").get(PAGE), "color-of-the-rail")
    assert said(one.select_one("b")) == "Nobody is named"
    assert [said(press) for press in one.select("a.press")] == ["Answer, as told"]


def test_the_super_is_not_asked_to_call_themselves(serve: Serve) -> None:
    world = around_the_stair().with_changed("Color of the rail", person_id="rufus-orme")
    one = row(serve(world).browser("Rufus Orme").get(PAGE), "color-of-the-rail")
    assert one.select_one('a[href^="tel:"]') is None


def test_what_is_answered_is_folded_with_its_answer(stair: Wall) -> None:
    folded = stair.browser("Rufus Orme").get(PAGE).select_one("details.more")
    assert folded is not None
    assert not folded.has_attr("open")
    text = said(folded)
    assert text.startswith("1 answer Sample of plaster , Garden stair rail")
    assert (
        "Sample B, as it hangs in the kitchen answered Mon Nov 24, 7 am, owed by Lou Vance" in text
    )


def test_an_answer_that_the_rep_gives_moves_into_the_fold(stair: Wall) -> None:
    lou = stair.browser("Lou Vance")
    lou.send(lou.get("/v"), "/v/color-of-the-rail/answer", {"answer": "Blackened"})
    page = stair.browser("Rufus Orme").get(PAGE)
    assert page.select_one("li#color-of-the-rail") is None
    assert "Blackened" in said(page.select_one("details.more"))


@pytest.mark.parametrize("person", ["Ore Street Metal lead", "Lou Vance"])
def test_it_is_the_supers_page(stair: Wall, person: str) -> None:
    assert stair.browser(person).status(PAGE) == 403


def test_without_any_the_page_says_so(wall: Wall) -> None:
    text = said(wall.browser("Rufus Orme").get(PAGE))
    assert "Nobody owes an answer." in text
    assert "Nothing has been answered yet." in text


def test_names_and_answers_are_shown_whole_and_as_they_were_typed(serve: Serve) -> None:
    world = around_the_stair()
    decisions = world.made.activities
    world = world.put(
        replace(decisions["color-of-the-rail"], name=f"<i>{LONG}</i>"),
        replace(decisions["sample-of-plaster"], answer="<b>B</b>"),
    )
    page = serve(world).browser("Rufus Orme").get(PAGE)
    assert page.select_one("main i") is None
    assert f"<i>{LONG}</i>" in said(page)
    assert "<b>B</b>" in said(page)
