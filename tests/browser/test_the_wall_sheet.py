"""The wall sheet in a real browser: one page of paper, and nothing cut off without saying so."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from server.core.changes import change
from server.core.changes.inputs import LONGEST_NAME
from server.core.changes.plan import AddDetailFromPattern
from server.core.world import Company
from server.data.patterns import all_patterns
from server.people.accounts import set_password
from server.store import open_store
from tests.browser.conftest import PASSWORD, Phone
from tests.pages.at_the_wall import nouns_of
from tests.servers import DemoServer, RunningServer
from tests.worlds import World, a_project, actor, id_of, on

LONG = " of the Quarry Road house, as drawn by the architect and as found on site"
PAPERS = ("Letter", "A4")

WHAT_IS_CUT = """() => [...document.querySelectorAll(
    '.wall, .wall > *, .top > *, .below > *, .columns > *, .wall h1, .scan, .sheetno'
  )].filter(box => box.scrollHeight > box.clientHeight + 1 || box.scrollWidth > box.clientWidth + 1)
    .map(box => `${box.tagName}.${box.className} ${box.scrollHeight} in ${box.clientHeight}`)"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[DemoServer]:
    with DemoServer.playing(tmp_path_factory.mktemp("demo")) as server:
        yield server


def from_patterns() -> World:
    """Every pattern as a detail with a long name, nothing of it begun: all checks to come."""
    world = a_project().with_crew("Long Meadow" + LONG, trade="framing", phone="555 0100")
    snapshot = world.with_person("The architect" + LONG).snapshot()
    crew, person = id_of("Long Meadow" + LONG), id_of("The architect" + LONG)
    for number, pattern in enumerate(all_patterns(), 1):
        command = AddDetailFromPattern(
            id=f"detail-{number}",
            name=(pattern.name + LONG)[:LONGEST_NAME],
            sheet=f"D{number}-{'LONG' * 4}",
            content=pattern,
            crews=dict.fromkeys(pattern.trades, crew),
            people=dict.fromkeys(pattern.roles, person),
        )
        snapshot = change(snapshot, actor(snapshot), command, on("Dec 1")).after
    named = (
        replace(noun, name=noun.name + LONG)
        for table in (snapshot.activities, snapshot.layers, snapshot.sides)
        for noun in table.values()
    )
    return World(snapshot.put(*named))


def signed_in(page: Any, base_url: str, login: str, password: str) -> Any:
    page.goto(f"{base_url}/sign-in")
    page.fill("#login", login)
    page.fill("#password", password)
    page.locator("main button").click()
    page.wait_for_url(f"{base_url}/")
    return page


def pages_of(page: Any, paper: str) -> int:
    """How many pages the browser prints."""
    return len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper)))


def printed(page: Any, address: str) -> tuple[list[int], list[str]]:
    """The pages on each paper, and what does not fit into its box when printed."""
    page.goto(address)
    counts = [pages_of(page, paper) for paper in PAPERS]
    page.emulate_media(media="print")
    cut = page.evaluate(WHAT_IS_CUT)
    page.emulate_media(media="null")
    return counts, cut


def test_each_sheet_of_the_demo_is_one_page(phone: Phone, demo: DemoServer) -> None:
    page = signed_in(phone(width=1280), demo.base_url, "dell", demo.sign_in["password"])
    details = page.locator(".strip .dh a").evaluate_all("all => all.map(a => a.href)")
    assert len(details) == 5
    for detail in details:
        assert printed(page, f"{detail}/sheet") == ([1, 1], []), detail


def test_so_is_each_pattern_with_nothing_begun_and_long_names(
    phone: Phone, running_server: RunningServer, tmp_path: Path
) -> None:
    store = open_store(running_server.database_url)
    company, *nouns = nouns_of(from_patterns().snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    set_password(store, "rufus-orme", "rufus", PASSWORD)
    store.close()
    page = signed_in(phone(width=1280), running_server.base_url, "rufus", PASSWORD)
    for number in range(1, len(all_patterns()) + 1):
        sheet = f"{running_server.base_url}/d/detail-{number}/sheet"
        assert printed(page, sheet) == ([1, 1], []), number
        assert "more checks, see the page" in page.locator(".checks-to-come .more").inner_text()
        assert page.locator(".next li").count() == 5
