"""The drawings of a detail: which is current, what is made to it, who may add one."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from server.core.world import Sheet
from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.pages.site.reading_pages import said
from tests.pages.site.stair import around_the_stair
from tests.worlds import PROJECT, World

PAGE = "/d/garden-stair-rail/drawings"
Serve = Callable[[World], Wall]


def test_the_current_drawing_is_open_and_the_replaced_one_folded(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    folded = page.select_one("details.more:has(s)")
    assert folded is not None
    assert "revision B, Mon Nov 3, 2025 · replaced by revision C" in said(folded)
    folded.extract()
    assert "A-402 Garden stair revision C" in said(page)
    assert "revision B, Mon" not in said(page)


def test_what_is_made_to_a_replaced_revision_is_marked_in_words(stair: Wall) -> None:
    page = stair.browser("Rufus Orme").get(PAGE)
    bad = page.select_one(".bad")
    assert said(bad) == "Height check made to revision B, which was replaced"
    assert page.select_one('.plain:has(.bad) a[href$="/a/rail"]') is not None


def test_what_was_done_to_a_replaced_revision_says_so(serve: Serve) -> None:
    world = around_the_stair().with_changed("Stand-off plates", sheet_id="a-402-b")
    bad = serve(world).browser("Rufus Orme").get(PAGE).select(".bad")
    texts = [said(one) for one in bad]
    want = "Stand-off plates order, done was made to revision B, which was replaced since"
    assert want in texts


@pytest.mark.parametrize("person", ["Ore Street Metal lead", "Ninepail Plaster lead", "Lou Vance"])
def test_who_sees_the_detail_may_look_and_gets_no_form(stair: Wall, person: str) -> None:
    page = stair.browser(person).get(PAGE)
    assert "Garden stair" in said(page)
    assert page.select_one(f'form[action="{PAGE}"]') is None
    assert not page.select('a[href*="replaces"]')


def test_who_does_not_see_the_detail_does_not_see_its_drawings(stair: Wall) -> None:
    hidden = "/d/main-flight/drawings"
    assert stair.browser("Ninepail Plaster lead").status(hidden) == 404


def test_a_crew_that_sends_the_form_all_the_same_is_refused(stair: Wall) -> None:
    sent = stair.browser("Ore Street Metal lead").post(PAGE, {"number": "X", "revision": "1"})
    assert sent.status_code == 403
    assert len(stair.snapshot().sheets) == 2


def test_a_new_drawing_is_kept_and_shown(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    typed = {"number": "A-410", "revision": "1", "title": "Rail", "dated": "2025-12-02"}
    assert rufus.send(rufus.get(PAGE), PAGE, typed).headers["location"] == PAGE
    assert "A-410 Rail revision 1, Tue Dec 2, 2025" in said(rufus.get(PAGE))


def test_a_new_revision_replaces_the_one_before(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    page = rufus.get(f"{PAGE}?replaces=a-402")
    assert "A new revision of A-402" in said(page)
    assert rufus.send(page, PAGE, {"revision": "D"}).status_code == 303
    newer = stair.snapshot().sheets["a-402"].replaced_id
    assert newer is not None
    assert stair.snapshot().sheets[newer].revision == "D"
    assert stair.snapshot().sheets[newer].number == "A-402"


def test_a_chain_of_revisions_leads_to_the_newest(serve: Serve) -> None:
    world = around_the_stair()
    c = replace(world.made.sheets["a-402"], replaced_id="a-402-d")
    d = replace(c, id="a-402-d", revision="D", replaced_id=None)
    page = serve(world.put(c, d)).browser("Rufus Orme").get(PAGE)
    assert [said(one) for one in page.select(".bad")] == [
        "Height check made to revision B, which was replaced",
        "Rail order made to revision C, which was replaced",
    ]
    assert "2 replaced revisions" in said(page)


def refused(browser: Browser, **typed: str) -> tuple[int, str]:
    sent = browser.send(browser.get(PAGE), PAGE, typed)
    return sent.status_code, sent.text


def test_what_is_missing_is_said_beside_its_field_and_the_rest_is_kept(stair: Wall) -> None:
    status, text = refused(stair.browser("Rufus Orme"), number="A-410", title="Rail, full size")
    assert status == 422
    assert 'id="revision-e"' in text
    assert 'value="A-410"' in text
    assert 'value="Rail, full size"' in text


def test_a_day_that_cannot_be_read_is_refused_at_its_field(stair: Wall) -> None:
    status, text = refused(
        stair.browser("Rufus Orme"), number="A-410", revision="1", dated="2025-02-31"
    )
    assert status == 422
    assert 'id="dated-e"' in text


def test_a_revision_that_is_there_already_is_refused_at_its_field(stair: Wall) -> None:
    status, text = refused(stair.browser("Rufus Orme"), number="a-402", revision="c")
    assert status == 422
    assert 'id="revision-e"' in text


def test_a_drawing_that_was_replaced_meanwhile_is_told_and_nothing_is_lost(stair: Wall) -> None:
    rufus = stair.browser("Rufus Orme")
    page = rufus.get(f"{PAGE}?replaces=a-402")
    rufus.send(rufus.get(f"{PAGE}?replaces=a-402"), PAGE, {"revision": "D"})
    late = rufus.send(page, PAGE, {"revision": "E"})
    assert late.status_code == 422
    assert "has been replaced already" in late.text
    assert 'value="E"' in late.text


def test_without_a_drawing_the_page_says_so_and_opens_the_form(serve: Serve) -> None:
    world = garden_rail()
    world = World(world.made.drop(*world.made.sheets.values()), world.detail, world.side)
    page = serve(world).browser("Rufus Orme").get(PAGE)
    assert "No drawing of this detail has been named yet." in said(page)
    assert page.select_one("details#new[open]") is not None


def test_markup_in_a_title_is_shown_as_it_was_typed(serve: Serve) -> None:
    sheet = Sheet(id="x", project_id=PROJECT, detail_id="garden-stair-rail", number="<b>X</b>",
                  revision="<i>", title="<script>alert(1)</script>")  # fmt: skip
    page = serve(around_the_stair().put(sheet)).browser("Lou Vance").get(PAGE)
    assert page.select_one("main script, main i") is None
    assert "<script>alert(1)</script>" in said(page)
    assert "<b>X</b>" in said(page)


def test_checks_and_orders_that_name_no_drawing_are_told_to_the_super_alone(stair: Wall) -> None:
    assert "names no drawing" in said(stair.browser("Rufus Orme").get(PAGE))
    assert "names no drawing" not in said(stair.browser("Lou Vance").get(PAGE))
