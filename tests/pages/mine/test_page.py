"""A crew's own page: its work, its visits, its checks and its receipts."""

import shutil
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.worlds import on

LEAD = "Ninepail Plaster lead"
VISIT = "/visit/ninepail-plaster-1/answer"


def said(browser: Browser, path: str = "/me") -> str:
    return " ".join(browser.get(path).select_one("main").get_text(" ").split())  # type: ignore[union-attr]


def test_work_that_waits_says_for_what_and_how_to_reach_who_moves_it(wall: Wall) -> None:
    page = wall.browser(LEAD).get("/me")
    text = " ".join(page.get_text(" ").split())
    assert "waits for “Height”, Ore Street Metal" in text
    assert page.select_one('a[href="tel:5550120"]') is not None
    sms = page.select_one('a[href^="sms:5550120?body="]')
    assert sms is not None
    assert "Hang%20board" in str(sms["href"])


def test_a_crew_is_shown_its_own_visits_and_no_others(wall: Wall) -> None:
    visit = f'form[action="{VISIT}"]'
    assert wall.browser(LEAD).get("/me").select(visit)
    assert not wall.browser("Ore Street Metal lead").get("/me").select(visit)


def test_a_crew_cannot_answer_for_another(wall: Wall) -> None:
    ore = wall.browser("Ore Street Metal lead")
    answer = ore.post(VISIT, {"answer": "coming", "key": "one-key"})
    assert answer.status_code == 404
    assert wall.snapshot().bookings["ninepail-plaster-1"].answered_at is None


def test_cannot_come_with_another_day_is_kept(wall: Wall) -> None:
    browser = wall.browser(LEAD)
    typed = {"answer": "cannot", "other_day": "2025-12-05T07:00", "reason": "Truck", "key": "k-1"}
    assert browser.post(VISIT, typed).status_code == 303
    visit = wall.snapshot().bookings["ninepail-plaster-1"]
    assert (visit.state, visit.other_day) == ("can't come", on("Dec 5"))
    assert (visit.reason, visit.by_phone) == ("Truck", False)
    assert "you can't come, you offered Fri Dec 5, 7 am" in said(browser)


def test_after_cannot_come_one_press_says_coming(wall: Wall) -> None:
    browser = wall.browser(LEAD)
    browser.post(VISIT, {"answer": "cannot", "key": "k-1"})
    assert browser.send(browser.get("/me"), VISIT).status_code == 303
    assert wall.snapshot().bookings["ninepail-plaster-1"].state == "coming"


def test_another_day_that_is_past_is_refused_and_what_was_typed_is_kept(wall: Wall) -> None:
    typed = {"answer": "cannot", "other_day": "2025-12-01T07:00", "reason": "Truck", "key": "k-1"}
    refused = wall.browser(LEAD).post(VISIT, typed)
    assert refused.status_code == 422
    assert "has to be still to come" in refused.text
    assert 'value="2025-12-01T07:00"' in refused.text
    assert 'value="Truck"' in refused.text


def test_a_day_that_there_is_not_is_refused(wall: Wall) -> None:
    typed = {"answer": "cannot", "other_day": "2025-02-30", "key": "k-1"}
    refused = wall.browser(LEAD).post(VISIT, typed)
    assert refused.status_code == 422
    assert "not a day there is" in refused.text


def test_an_answer_by_htmx_leads_on_without_a_new_document(wall: Wall) -> None:
    typed = {"answer": "cannot", "key": "k-1"}
    answer = wall.browser(LEAD).post(VISIT, typed, **{"HX-Request": "true"})
    assert answer.status_code == 204
    assert answer.headers["hx-redirect"] == "/me"


def test_a_refusal_by_htmx_is_one_that_it_takes_in(wall: Wall) -> None:
    browser = wall.browser(LEAD)
    browser.post(VISIT, {"answer": "cannot", "key": "k-1"})
    typed = {"answer": "coming", "key": "k-1"}
    assert browser.post(VISIT, typed).status_code == 409
    refused = browser.post(VISIT, typed, **{"HX-Request": "true"})
    assert refused.status_code == 422
    assert BeautifulSoup(refused.text, "html.parser").select_one(".errors") is not None


def test_a_check_that_is_asked_of_the_crew_is_one_press_away(wall: Wall) -> None:
    page = wall.browser("Ore Street Metal lead").get("/me")
    assert page.select_one('a.press[href="/h/height-check"]') is not None


def test_each_ok_is_a_receipt_with_who_and_what_was_left_out(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    world = garden_rail().with_attempt(
        "Height", "released", decided_by_id="lou-vance", decided_at=on("Dec 3 10:40"), left_out=(3,)
    )
    with Wall.served(tmp_path, world) as wall:
        text = said(wall.browser("Ore Street Metal lead"))
        assert "Height: OK to cover, all but No. 3, today 10:40 am, by Lou Vance" in text
        assert "OK to cover" not in said(wall.browser("Thimble Hill Framing lead"))


def test_units_are_the_persons_own_to_choose(wall: Wall) -> None:
    browser = wall.browser(LEAD)
    page = browser.get("/me")
    checked = page.select_one('input[name="units"][checked]')
    assert checked is not None
    assert checked["value"] == "in"
    assert browser.send(page, "/me/ways", {"units": "mm"}).status_code == 303
    assert wall.snapshot().people["ninepail-plaster-lead"].units == "mm"
    checked = browser.get("/me").select_one('input[name="units"][checked]')
    assert checked is not None
    assert checked["value"] == "mm"


def test_units_that_nobody_reads_are_refused(wall: Wall) -> None:
    refused = wall.browser(LEAD).post("/me/ways", {"units": "ell", "key": "k-1"})
    assert refused.status_code == 422
    assert wall.snapshot().people["ninepail-plaster-lead"].units == "in"


def test_a_crew_with_nothing_to_do_is_told_so(wall: Wall) -> None:
    text = said(wall.browser("Thimble Hill Framing lead"))
    assert "Nothing under way." in text
    assert "Nothing is ready for you yet." in text


@pytest.mark.parametrize(("person", "leads"), [("Rufus Orme", "/"), ("Lou Vance", "/v")])
def test_others_are_led_to_their_own_pages(wall: Wall, person: str, leads: str) -> None:
    answer = wall.browser(person).client.get("/me", follow_redirects=False)
    assert answer.headers["location"] == leads


def test_the_notes_that_a_crew_can_act_on_stand_on_its_page_and_nobody_elses(wall: Wall) -> None:
    ore = wall.browser("Ore Street Metal lead").get("/me")
    (note,) = ore.select("ol.notes > li")
    assert "has not been marked ready to look at" in note.text
    assert note.select_one('a[href="/h/height-check"]') is not None
    assert note.select_one("form") is None
    assert not wall.browser("Thimble Hill Framing lead").get("/me").select("ol.notes > li")
