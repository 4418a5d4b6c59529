"""A real server with the garden stair rail in it, and a real browser in front of it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from server.core.world import Company
from server.people.accounts import give_link, set_password
from server.store import open_store
from tests.pages.at_the_wall import garden_rail, nouns_of, photo
from tests.servers import RunningServer
from tests.worlds import PROJECT

PASSWORD = "seven risers up"
REFUSED = "the server responded with a status of 422"
"""What Chromium itself says of a press that was refused and told so in place."""


@dataclass(frozen=True)
class House:
    """The server's address, a crew's link, and a photo on the phone."""

    base_url: str
    crew_link: str
    photo: Path


@pytest.fixture
def house(running_server: RunningServer, tmp_path: Path) -> House:
    """The garden stair rail on Dec 3: the stand-offs are set and board comes tomorrow."""
    store = open_store(running_server.database_url)
    company, *nouns = nouns_of(garden_rail().snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    set_password(store, "rufus-orme", "rufus", PASSWORD)
    person = store.snapshot(PROJECT).people["ore-street-metal-lead"]
    link = give_link(store, person, (PROJECT,), running_server.base_url)
    store.close()
    picture = tmp_path / "stand-offs.jpg"
    picture.write_bytes(photo())
    return House(running_server.base_url, link, picture)


Phone = Callable[..., Any]


@pytest.fixture
def phone(browser: Any) -> Iterator[Phone]:
    """Opens a page of somebody's own phone, 390 px wide; what its console says is a failure."""
    contexts, said = [], []

    def opened(*, javascript: bool = True, width: int = 390) -> Any:
        context = browser.new_context(
            viewport={"width": width, "height": 844}, java_script_enabled=javascript
        )
        context.set_default_timeout(20_000)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda message: REFUSED in message.text or said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert said == []
