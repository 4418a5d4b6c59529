"""From a phone: they come Friday instead. What it pushes is shown, agreed, and the crew is told."""

from typing import Any
from urllib.parse import unquote

import pytest

from server.people.accounts import give_link
from server.store import open_store
from tests.browser.conftest import House, Phone
from tests.browser.test_a_check_at_the_wall import as_super
from tests.servers import RunningServer
from tests.worlds import PROJECT

DETAIL = "/d/garden-stair-rail"


@pytest.fixture
def plaster_link(running_server: RunningServer, house: House) -> str:
    """The link of the lead of the crew that hangs the board."""
    store = open_store(running_server.database_url)
    person = store.snapshot(PROJECT).people["ninepail-plaster-lead"]
    link = give_link(store, person, (PROJECT,), running_server.base_url)
    store.close()
    return link


def said(page: Any) -> str:
    return " ".join(page.locator("main").inner_text().split())


@pytest.mark.parametrize("javascript", [True, False], ids=["with script", "without script"])
def test_a_visit_moves_to_friday_and_the_crew_hears_of_it(
    phone: Phone, house: House, plaster_link: str, javascript: bool
) -> None:
    rufus = as_super(phone, house, javascript=javascript)
    rufus.goto(house.base_url + DETAIL)
    row = rufus.locator("ol.rope li", has_text="Hang board")
    row.locator("details.why > summary").click()
    if javascript:
        row.get_by_text("Set by").wait_for()
    else:
        row.get_by_role("link", name="Why then").click()
    rufus.get_by_role("link", name="Ninepail Plaster comes Fri Dec 5 instead").first.click()

    rufus.get_by_role("heading", name="What it pushes").wait_for()
    shown = said(rufus)
    assert "Ninepail Plaster comes Fri Dec 5, 7 am instead of tomorrow 7 am." in shown
    assert "Done Thu Dec 11 instead of Sun Dec 7" in shown
    assert "Fri Dec 5, 7 am instead of Thu Dec 4: hang board, garden stair rail." in shown
    assert rufus.evaluate("document.documentElement.scrollWidth") <= 390

    rufus.fill("#cause", "Their lift broke down")
    rufus.get_by_role("button", name="Agree to it").click()
    rufus.wait_for_url("**/told")
    text = rufus.locator('a[href^="sms:"]').get_attribute("href")
    assert "Fri Dec 5, 7 am instead of Thu Dec 4" in unquote(text)

    crew = phone(javascript=javascript)
    crew.goto(plaster_link)
    crew.locator("main button").click()
    crew.wait_for_url("**/me")
    assert "Hang board, garden stair rail: Fri Dec 5 instead of Thu Dec 4" in said(crew)
    crew.get_by_role("button", name="I have seen it").click()
    crew.get_by_text("Taken.").wait_for()
    assert "instead of Thu Dec 4" not in said(crew)
    coming = crew.get_by_role("button", name="Coming")
    coming.click()
    coming.wait_for(state="detached")

    rufus.goto(house.base_url + DETAIL)
    row = rufus.locator("ol.rope li", has_text="Hang board")
    assert "coming Fri Dec 5, 7 am" in " ".join(row.inner_text().split())
