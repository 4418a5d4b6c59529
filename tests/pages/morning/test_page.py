"""The morning sheet of the garden stair rail on Dec 3."""

from fractions import Fraction

from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Wall


def test_the_sheet_says_who_goes_next_and_on_whom_it_waits(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get("/")
    rows = [" ".join(row.get_text(" ").split()) for row in page.select("ol.goes > li")]
    assert rows[0].startswith("now Ore Street Metal : Height, Garden stair rail")
    assert "waits for “Height”" in rows[1]


def test_a_check_that_board_will_hide_tomorrow_is_the_worst_note(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get("/")
    note = page.select_one("ol.notes > li")
    assert note is not None
    assert "Lost work: About to be hidden" in note.text
    assert note.select_one('a[href="/h/height-check"]') is not None


def test_a_note_can_be_lived_with_for_a_reason_only(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get("/")
    link = next(a for a in page.select("ol.notes a") if "Live with it" in a.text)
    note = browser.get(str(link["href"]))
    action = str(note.select_one("main form")["action"])  # type: ignore[index]
    refused = browser.send(note, action, {"until": "2025-12-10"})
    assert refused.status_code == 422
    assert 'value="2025-12-10"' in refused.text
    taken = browser.send(note, action, {"reason": "Looked at by phone", "until": "2025-12-10"})
    assert taken.status_code == 303
    assert len(browser.get("/").select("ol.notes > li")) == len(page.select("ol.notes > li")) - 1


def test_a_temporary_work_is_looked_at_by_one_press(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    form = browser.get("/p/quarry-road/temporary")
    put_in = {"name": "Temporary stair", "kind": "stair", "daily": "yes"}
    assert browser.send(form, "/p/quarry-road/temporary", put_in).status_code == 303
    sheet = browser.get("/")
    action = str(sheet.select_one('form[action*="/temporary/"]')["action"])  # type: ignore[index]
    assert browser.send(sheet, action).status_code == 303
    assert "looked at by Rufus Orme" in browser.get("/").text


def test_a_temporary_stair_is_put_in_with_its_risers_and_its_rise(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    action = "/p/quarry-road/temporary"
    typed: dict[str, str | list[str]] = {
        "name": "Temporary stair", "kind": "stair", "risers": "14", "rise": "108 1/2"
    }  # fmt: skip
    assert browser.send(browser.get(action), action, typed).status_code == 303
    (stair,) = wall.snapshot().temporary.values()
    assert (stair.risers, stair.rise) == (14, Fraction(217, 2))


def test_a_rise_that_cannot_be_is_told_beside_it_and_kept(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    action = "/p/quarry-road/temporary"
    typed: dict[str, str | list[str]] = {"name": "Rail", "kind": "rail", "rise": "108 1/2"}
    answer = browser.send(browser.get(action), action, typed)
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    said, field = page.select_one("#rise-e"), page.select_one("#rise")
    assert said is not None
    assert "Only a stair or a deck" in said.text
    assert field is not None
    assert field["value"] == "108 1/2"


def test_a_crew_and_a_rep_are_led_to_their_own_pages(wall: Wall) -> None:
    for person, leads in (("Ore Street Metal lead", "/me"), ("Lou Vance", "/v")):
        client = wall.browser(person).client
        answer = client.get("/", follow_redirects=False)
        assert answer.headers["location"] == leads
