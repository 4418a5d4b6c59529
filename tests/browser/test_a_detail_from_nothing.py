"""The same detail as over HTTP, typed into a browser on an empty company; the dates are by hand."""

from datetime import datetime
from typing import Any

import pytest
from bs4 import BeautifulSoup

from server.core.world import Company
from server.core.world.network import forecast
from server.people.sign_in import set_password
from server.store import open_store
from tests.browser.conftest import PASSWORD, Phone
from tests.pages.at_the_wall import nouns_of
from tests.pages.plan.conftest import empty_company
from tests.pages.plan.test_from_nothing import BY_HAND, built, named
from tests.servers import RunningServer


class Typist:
    """Somebody at a browser: goes to a page, types, chooses, ticks, presses the big press."""

    def __init__(self, page: Any, base_url: str) -> None:
        self.at, self.base_url = page, base_url

    def page(self, path: str) -> BeautifulSoup:
        """What stands on a page."""
        self.at.goto(self.base_url + path)
        return BeautifulSoup(self.at.content(), "html.parser")

    def take(self, path: str, typed: dict[str, str]) -> str:
        """Types into the form of a page and presses; the path it leads to."""
        self.at.goto(self.base_url + path)
        for name, said in typed.items():
            self._type(self.at.locator(f'main [name="{name}"]'), said)
        before = self.at.url
        self.at.locator("main form button.big").first.click()
        self.at.wait_for_url(lambda url: url != before)
        assert not self.at.locator(".err").count(), self.at.locator("main").inner_text()
        return str(self.at.evaluate("location.pathname"))

    def _type(self, fields: Any, said: str) -> None:
        first = fields.first
        if first.evaluate("e => !e.checkVisibility()"):
            first.evaluate("e => e.closest('details').open = true")
        kind = first.evaluate("e => e.tagName + ':' + (e.type || '')")
        if kind.startswith("SELECT"):
            first.select_option(_value(first, said))
        elif kind == "INPUT:checkbox":
            labelled = self.at.locator("label.choice", has_text=said)
            box = labelled.locator(f'[name="{first.get_attribute("name")}"]')
            (box.first if box.count() else first).check()
        else:
            first.fill(said)


def _value(select: Any, said: str) -> str:
    """The value of the choice that shows these words."""
    for option in select.locator("option").all():
        if option.inner_text().strip() == said:
            return str(option.get_attribute("value"))
    return said


@pytest.mark.parametrize("javascript", [True, False], ids=["with script", "without script"])
def test_a_detail_built_by_forms_has_the_dates_worked_out_by_hand(
    running_server: RunningServer, phone: Phone, javascript: bool
) -> None:
    store = open_store(running_server.database_url)
    company, *nouns = nouns_of(empty_company().snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    set_password(store, "ada-ford", "ada", PASSWORD)
    page = phone(width=1280, javascript=javascript)
    page.goto(f"{running_server.base_url}/sign-in")
    page.fill("#login", "ada")
    page.fill("#password", PASSWORD)
    page.locator("main button").click()
    page.get_by_text("No house yet").wait_for()

    built(Typist(page, running_server.base_url))  # type: ignore[arg-type]

    (house,) = store.projects("new-company")
    snapshot = store.snapshot(house.id)
    store.close()
    schedule = forecast(snapshot, datetime(2025, 11, 28, 9))
    for name, dates in BY_HAND.items():
        id = named(snapshot, name).id
        assert (schedule[id].early_start, schedule[id].early_finish) == dates, name
