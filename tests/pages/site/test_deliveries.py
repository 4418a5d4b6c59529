"""The deliveries of a house: how far each has come, by when, what for, and who records it."""

from collections.abc import Callable
from dataclasses import replace
from urllib.parse import unquote

import pytest
from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.pages.site.reading_pages import said
from tests.pages.site.stair import LONG, around_the_stair
from tests.worlds import DAY, World, on

PAGE = "/p/quarry-road/deliveries"
RAIL, BOARD, PLATES = f"{PAGE}/rail", f"{PAGE}/board", f"{PAGE}/stand-off-plates"
Serve = Callable[[World], Wall]


def row(page: BeautifulSoup, id: str) -> Tag:
    found = page.select_one(f"li#{id}")
    assert found is not None
    return found


def stages(page: BeautifulSoup, id: str) -> list[str]:
    return [said(stage) for stage in row(page, id).select(".stages > li")]


def labels(part: Tag) -> list[str]:
    return [said(button) for button in part.select("button")]


def test_the_overdue_stand_first_and_are_counted(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    names = [said(link) for link in page.select("li > div > p:first-child > a")]
    assert names == ["Rail", "Stringers", "Board", "Stand-off plates"]
    assert said(page.select_one(".count")) == "3 overdue"


def test_the_stages_stand_in_a_row_with_the_days_of_those_that_are_done(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    assert stages(page, "stringers") == [
        "measured Thu Nov 20",
        "drawn Mon Nov 24",
        "approved next",
        "ordered",
        "shipped",
        "here",
        "counted and looked over",
    ]


def test_what_nobody_draws_begins_with_its_order(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    assert stages(page, "board")[:2] == ["ordered Mon Nov 24", "shipped next"]
    assert "shipped not recorded" in stages(page, "stand-off-plates")


def test_the_order_day_is_said_with_the_drawing_and_approval_before_it(serve: Serve) -> None:
    world = around_the_stair().with_changed("Rail", review=60 * 24)
    text = said(row(serve(world).browser("Rufus Orme").get(PAGE), "rail"))
    want = (
        "order by Thu Dec 4; the drawing and approval before that take 1 day, so begin by Wed Dec 3"
    )
    assert want in text


def test_without_a_review_it_is_only_to_be_ordered(serve: Serve) -> None:
    world = garden_rail().with_delivery("Board", 2 * DAY)
    world = world.with_dependency("Board", "Base coat")
    text = said(row(serve(world).browser("Rufus Orme").get(PAGE), "board"))
    assert "was to be ordered by" in text or "order by" in text
    assert "approval" not in text


def test_what_was_promised_for_a_day_gone_by_is_overdue(stair: Wall) -> None:
    board = row(stair.browser("Rufus Orme").get(PAGE), "board")
    assert said(board.select_one(".hl")) == "was promised for Tue Dec 2, needed by Thu Dec 4"


def test_every_forecast_day_opens_and_says_why(stair: Wall) -> None:
    rail = row(stair.browser("Rufus Orme").get(PAGE), "rail")
    assert [str(fold["hx-get"]) for fold in rail.select("details.why > div")] == [
        "/d/garden-stair-rail/a/rail/why",
        "/d/garden-stair-rail/a/hang-rail/why",
    ]
    assert "before it can be here" in said(rail)


def test_the_super_reaches_who_makes_it_with_a_ready_sentence(stair: Wall) -> None:
    rail = row(stair.browser("Rufus Orme").get(PAGE), "rail")
    text = rail.select_one('a[href^="sms:"]')
    assert text is not None
    assert "rail, garden stair rail: how far is it" in unquote(str(text["href"]))


@pytest.mark.parametrize(
    ("id", "stage", "field"),
    [("rail", "measured", "measured"), ("stringers", "approved", "approved"),
     ("board", "shipped", "shipped"), ("board", "finished", "finished"),
     ("stand-off-plates", "counted", "counted")],
)  # fmt: skip
def test_the_next_press_records_the_stage(stair: Wall, id: str, stage: str, field: str) -> None:
    rufus = stair.browser("Rufus Orme")
    page = rufus.get(PAGE)
    press = row(page, id).select_one(f'button[value="{stage}"]')
    assert press is not None
    sent = rufus.send(page, f"{PAGE}/{id}", {"stage": stage})
    assert sent.headers["location"] == PAGE
    assert getattr(stair.snapshot().activities[id], field) == on("Dec 3 10:52")


def test_an_order_keeps_the_day_its_supplier_promised(serve: Serve) -> None:
    wall = serve(around_the_stair().with_changed("Rail", approved=on("Dec 1"), drawn=on("Dec 1")))
    rufus = wall.browser("Rufus Orme")
    typed = {"stage": "ordered", "promised_rail": "2025-12-12"}
    assert rufus.send(rufus.get(PAGE), RAIL, typed).status_code == 303
    rail = wall.snapshot().activities["rail"]
    assert (rail.ordered, rail.promised) == (on("Dec 3 10:52"), on("Dec 12 0:00"))


def test_another_stage_at_another_time_can_be_recorded(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    typed = {"stage": "other", "stage_rail": "drawn", "when_rail": "2025-12-01T09:00"}
    assert rufus.send(rufus.get(PAGE), RAIL, typed).status_code == 303
    assert stair.snapshot().activities["rail"].drawn == on("Dec 1 9:00")


def test_what_is_counted_leaves_the_page(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    rufus.send(rufus.get(PAGE), PLATES, {"stage": "counted"})
    assert "Nothing lies here uncounted." in said(rufus.get(PAGE))


def refused(browser: Browser, action: str, **typed: str) -> BeautifulSoup:
    sent = browser.send(browser.get(PAGE), action, dict(typed))
    assert sent.status_code == 422
    return BeautifulSoup(sent.text, "html.parser")


def test_a_time_to_come_is_refused_beside_its_field_and_kept(stair: Wall) -> None:
    typed = {"stage": "other", "stage_rail": "drawn", "when_rail": "2025-12-09T09:00"}
    page = refused(stair.browser("Rufus Orme"), RAIL, **typed)
    field = page.select_one("#when_rail")
    assert field is not None
    assert field["value"] == "2025-12-09T09:00"
    assert page.select_one("#when_rail-e") is not None
    assert page.select_one("li#rail details.more[open]") is not None
    assert page.select_one("#stage_rail option[selected]")["value"] == "drawn"  # type: ignore[index]
    assert page.select_one("li#board details.more[open]") is None


def test_a_day_promised_before_the_order_is_refused_beside_its_field(stair: Wall) -> None:
    typed = {"stage": "other", "stage_board": "ordered", "promised_board": "2025-12-01"}
    page = refused(stair.browser("Rufus Orme"), BOARD, **typed)
    assert page.select_one("#promised_board-e") is not None


def test_an_unknown_stage_is_refused_beside_its_field(stair: Wall) -> None:
    page = refused(stair.browser("Rufus Orme"), RAIL, stage="other", stage_rail="painted")
    assert page.select_one("#stage_rail-e") is not None


def test_a_crew_records_what_it_brings_but_does_not_order(stair: Wall) -> None:
    ore = stair.browser("Ore Street Metal lead")
    page = ore.get(PAGE)
    assert labels(row(page, "rail")) == ["Measured", "Keep it"]
    assert row(page, "rail").select_one('option[value="ordered"]') is None
    assert ore.send(page, RAIL, {"stage": "measured"}).status_code == 303
    assert ore.send(ore.get(PAGE), RAIL, {"stage": "ordered"}).status_code == 403


def test_a_crew_sees_what_others_bring_to_its_details_and_presses_nothing_there(
    stair: Wall,
) -> None:
    page = stair.browser("Ore Street Metal lead").get(PAGE)
    assert not labels(row(page, "board"))
    assert page.select_one("li#stringers") is None
    assert (
        stair.browser("Ore Street Metal lead").post(BOARD, {"stage": "finished"}).status_code == 403
    )


def test_a_delivery_of_a_detail_that_is_not_theirs_does_not_exist(stair: Wall) -> None:
    sent = stair.browser("Ore Street Metal lead").post(f"{PAGE}/stringers", {"stage": "finished"})
    assert sent.status_code == 404


def test_the_rep_looks_and_presses_nothing(stair: Wall) -> None:
    page = stair.browser("Lou Vance").get(PAGE)
    assert "Stringers" in said(page)
    assert not page.select("main button, main form")
    assert stair.browser("Lou Vance").post(RAIL, {"stage": "measured"}).status_code == 403


def test_where_nothing_comes_the_page_says_so(wall: Wall) -> None:
    text = said(wall.browser("Rufus Orme").get(PAGE))
    assert "Nothing is on its way, and nothing has to be ordered." in text
    assert "Nothing lies here uncounted." in text


def test_names_are_shown_whole_and_as_they_were_typed(serve: Serve) -> None:
    world = around_the_stair()
    rail = replace(world.made.activities["rail"], name=f"<i>{LONG}</i>")
    page = serve(world.put(rail)).browser("Rufus Orme").get(PAGE)
    assert page.select_one("main i") is None
    assert f"<i>{LONG}</i>" in said(row(page, "rail"))
