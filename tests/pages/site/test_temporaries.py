"""The temporary works of a house: whose, where, looked at by whom; looked at and taken out."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import Browser, Wall
from tests.pages.site.reading_pages import said
from tests.pages.site.stair import around_the_stair
from tests.worlds import World, on

PAGE = "/p/quarry-road/temporaries"
RAIL, SHORES = f"{PAGE}/rail-temp", f"{PAGE}/shores"
Serve = Callable[[World], Wall]


def unit(page: BeautifulSoup, id: str) -> Tag:
    found = page.select_one(f"section#{id}")
    assert found is not None
    return found


def days(page: BeautifulSoup, id: str) -> list[str]:
    return [said(day) for day in unit(page, id).select(".stages > li")]


def test_what_nobody_has_looked_at_today_stands_first_and_is_counted(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    assert [one["id"] for one in page.select("section.unit")] == ["rail-temp", "shores"]
    assert said(page.select_one(".count")) == "1 not looked at today"
    assert said(unit(page, "rail-temp").select_one(".hl")) == "Nobody has looked at it today."


def test_whose_where_and_since_when_are_said(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    about = said(unit(page, "rail-temp").select_one(".who"))
    assert about == "temporary rail · Ore Street Metal · Garden stair · in since Thu Nov 20"
    looked = "Looked at today 6:55 am by Rufus Orme: in order"
    assert looked in said(unit(page, "shores"))


def test_the_last_seven_days_say_where_somebody_looked_and_where_nobody_did(stair: Wall) -> None:
    assert days(stair.browser("Rufus Orme").get(PAGE), "rail-temp") == [
        "Thu Nov 27 nobody",
        "Fri Nov 28 nobody",
        "Sat Nov 29 no work",
        "Sun Nov 30 no work",
        "Mon Dec 1 looked",
        "Tue Dec 2 put right",
        "Wed Dec 3 not yet",
    ]


def test_days_before_it_was_in_are_not_shown(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    assert days(page, "shores") == ["Mon Dec 1 nobody", "Tue Dec 2 nobody", "Wed Dec 3 looked"]


def test_a_look_is_kept_by_one_press(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    sent = rufus.send(rufus.get(PAGE), RAIL, {"press": "in order"})
    assert sent.headers["location"] == PAGE
    page = rufus.get(PAGE)
    assert days(page, "rail-temp")[-1] == "Wed Dec 3 looked"
    assert page.select_one(".count") is None


def test_what_is_not_in_order_stands_first_with_what_was_found(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    typed = {"press": "not in order", "note_shores": "A wedge has come out"}
    assert rufus.send(rufus.get(PAGE), SHORES, typed).status_code == 303
    page = rufus.get(PAGE)
    assert page.select("section.unit")[0]["id"] == "shores"
    assert said(unit(page, "shores").select_one(".amiss")) == "Not in order: A wedge has come out"


def test_a_later_look_that_finds_it_in_order_clears_that(serve: Serve) -> None:
    world = around_the_stair()
    look = replace(world.made.looks["look-4"], in_order=False, note="A wedge has come out")
    rufus = serve(world.put(look)).browser("Rufus Orme")
    page = rufus.get(PAGE)
    assert unit(page, "shores").select_one(".amiss") is not None
    rufus.send(page, SHORES, {"press": "in order"})
    assert unit(rufus.get(PAGE), "shores").select_one(".amiss") is None


def test_of_two_looks_in_one_minute_the_one_that_found_something_counts(serve: Serve) -> None:
    world = around_the_stair()
    bad = replace(world.made.looks["look-4"], id="a-look", in_order=False, note="Split")
    page = serve(world.put(bad)).browser("Rufus Orme").get(PAGE)
    assert said(unit(page, "shores").select_one(".amiss")) == "Not in order: Split"


def refused(browser: Browser, action: str, **typed: str) -> BeautifulSoup:
    sent = browser.send(browser.get(PAGE), action, dict(typed))
    assert sent.status_code == 422
    return BeautifulSoup(sent.text, "html.parser")


def test_not_in_order_without_a_word_is_refused_beside_the_field(stair: Wall) -> None:
    page = refused(stair.browser("Rufus Orme"), RAIL, press="not in order")
    assert said(page.select_one("#note_rail-temp-e")) == "Say what is not in order."
    assert unit(page, "rail-temp").select_one("details[open] textarea") is not None
    assert unit(page, "shores").select_one("details[open]") is None


def test_a_press_that_says_nothing_is_refused(stair: Wall) -> None:
    looks = len(stair.snapshot().looks)
    refused(stair.browser("Rufus Orme"), RAIL)
    assert len(stair.snapshot().looks) == looks


def test_taken_out_it_is_folded_with_its_days(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    assert rufus.send(rufus.get(PAGE), RAIL, {"press": "out"}).status_code == 303
    page = rufus.get(PAGE)
    assert page.select_one("section#rail-temp") is None
    folded = said(page.select_one("details.more:not(section details)"))
    assert "in Thu Nov 20, out Wed Dec 3" in folded
    assert "in Wed Nov 12, out Fri Nov 28" in folded


@pytest.mark.parametrize("when", ["2025-12-05T07:00", "2025-11-03T07:00", "soon"])
def test_out_at_a_time_that_cannot_be_is_refused_beside_its_field_and_kept(
    stair: Wall, when: str
) -> None:
    typed = {"press": "out", "when_rail-temp": when}
    page = refused(stair.browser("Rufus Orme"), RAIL, **typed)
    field = page.select_one('[id="when_rail-temp"]')
    assert field is not None
    assert field["value"] == when
    assert page.select_one('[id="when_rail-temp-e"]') is not None


def test_the_day_it_comes_out_by_the_plan_opens_and_says_why(serve: Serve) -> None:
    world = (
        around_the_stair()
        .with_task("Strike the rail", temporary="strikes", temporary_id="rail-temp")
        .with_task("Paint from it", temporary="stands on", temporary_id="rail-temp")
    )
    rail = unit(serve(world).browser("Rufus Orme").get(PAGE), "rail-temp")
    assert "comes out Wed Dec 3 by the plan: “Strike the rail”" in said(rail)
    assert rail.select_one('.why > div[hx-get$="/a/strike-the-rail/why"]') is not None
    assert "Still to be done from it: Paint from it." in said(rail)


def test_one_that_nobody_has_to_look_at_daily_is_not_missed(serve: Serve) -> None:
    world = around_the_stair()
    rail = replace(world.made.temporary["rail-temp"], daily=False)
    page = serve(world.put(rail)).browser("Rufus Orme").get(PAGE)
    assert page.select_one(".count") is None
    assert "No daily look is asked for it." in said(unit(page, "rail-temp"))


def test_a_crew_looks_at_its_own_and_takes_nothing_out(stair: Wall) -> None:
    ore = stair.browser("Ore Street Metal lead")
    page = ore.get(PAGE)
    assert [one["id"] for one in page.select("section.unit")] == ["rail-temp"]
    assert page.select_one('button[value="out"]') is None
    assert ore.send(page, RAIL, {"press": "in order"}).status_code == 303
    assert ore.send(ore.get(PAGE), RAIL, {"press": "out"}).status_code == 403
    assert stair.snapshot().temporary["rail-temp"].taken_out is None


def test_a_crew_sees_what_stands_where_it_works_without_a_press(stair: Wall) -> None:
    page = stair.browser("Ninepail Plaster lead").get(PAGE)
    assert "Temporary rail at the garden stair" in said(page)
    assert not page.select("main button")
    sent = stair.browser("Ninepail Plaster lead").post(RAIL, {"press": "in order"})
    assert sent.status_code == 403


def test_what_is_not_a_crews_to_see_does_not_exist(stair: Wall) -> None:
    sent = stair.browser("Ore Street Metal lead").post(SHORES, {"press": "in order"})
    assert sent.status_code == 404


def test_the_rep_has_no_such_page(stair: Wall) -> None:
    assert stair.browser("Lou Vance").status(PAGE) == 403


def test_the_caution_says_who_decides_and_what_a_look_is(stair: Wall) -> None:
    text = said(stair.browser("Rufus Orme").get(PAGE).select_one(".caution"))
    assert "subparts L, M and X" in text
    assert "records that somebody looked, nothing more" in text


def test_without_any_the_page_says_so(wall: Wall) -> None:
    assert "None in use." in said(wall.browser("Rufus Orme").get(PAGE))


def test_names_and_notes_are_shown_as_they_were_typed(serve: Serve) -> None:
    world = around_the_stair()
    rail = replace(world.made.temporary["rail-temp"], name="<i>" + "Long name " * 12)
    look = replace(world.made.looks["look-3"], note="<b>loose</b>", in_order=False)
    page = serve(world.put(rail, look)).browser("Rufus Orme").get(PAGE)
    assert page.select_one("main i") is None
    assert "<b>loose</b>" in said(unit(page, "rail-temp").select_one(".amiss"))
    assert days(page, "rail-temp")[5] == "Tue Dec 2 not in order"
    assert on("Dec 2 9:30") == look.at
