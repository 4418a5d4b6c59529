"""The press that mends a note: what it pushes is shown before it is agreed."""

from bs4 import BeautifulSoup
from httpx import Response

from tests.pages.at_the_wall import Browser, Wall

MEND = "/p/quarry-road/mend"


def pressed(browser: Browser, label: str) -> tuple[dict[str, str], Response]:
    """The form of the mend with this label, sent as it stands on the morning sheet."""
    page = browser.get("/")
    form = next(form for form in page.select(f'form[action="{MEND}"]') if label in form.text)
    fields = {str(tag["name"]): str(tag.get("value", "")) for tag in form.select("input")}
    return fields, browser.post(MEND, fields)


def test_what_a_mend_pushes_is_shown_and_nothing_is_done_yet(wall: Wall) -> None:
    before = wall.snapshot()
    _, answer = pressed(wall.browser("Rufus Orme"), "Ask Ninepail")
    shown = " ".join(BeautifulSoup(answer.text, "html.parser").get_text(" ").split())
    assert answer.status_code == 200
    assert "Ask Ninepail Plaster for Fri Dec 5" in shown
    assert "Ninepail Plaster is asked for Fri Dec 5, 7 am: Base coat." in shown
    assert "Can you?" in shown
    assert wall.snapshot() == before


def test_a_mend_that_is_agreed_is_made_and_its_crew_is_told(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    fields, answer = pressed(browser, "Ask Ninepail")
    agreed = browser.send(BeautifulSoup(answer.text, "html.parser"), MEND)
    assert (agreed.status_code, agreed.headers["location"]) == (303, "/p/quarry-road/told")
    assert fields["note"] not in browser.get("/").decode()
    (telling,) = wall.snapshot().tellings.values()
    assert (telling.crew_id, telling.what) == ("ninepail-plaster", "asked")


def test_a_mend_whose_note_has_gone_meanwhile_is_refused(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    _, answer = pressed(browser, "Ask Ninepail")
    page = BeautifulSoup(answer.text, "html.parser")
    assert browser.send(page, MEND).status_code == 303
    again = browser.send(page, MEND, {"key": "another"})
    assert again.status_code == 422
    assert "not there any more" in again.text
