"""The server is killed after each press of a session of forms: what was acknowledged is there."""

import re

import httpx
import pytest
from bs4 import BeautifulSoup

from server.core.world import Company
from server.people.sign_in import set_password
from server.store import open_store
from tests.pages.at_the_wall import garden_rail, nouns_of
from tests.servers import RunningServer
from tests.store.logged import company_entries
from tests.worlds import PROJECT

PASSWORD = "seven risers up"
PRESSES = (
    ("/people", "/people", {"name": "Ida Brandt", "role": "rep"}),
    ("/p/quarry-road/temporary", "/p/quarry-road/temporary", {"name": "Guard", "kind": "guard"}),
    ("/d/garden-stair-rail/visit?activity=base-coat", "/d/garden-stair-rail/visit", {}),
    (
        "/d/garden-stair-rail/promise",
        "/d/garden-stair-rail/promise",
        {"reason": "Board came later"},
    ),
)


@pytest.fixture
def served(running_server: RunningServer) -> RunningServer:
    store = open_store(running_server.database_url)
    company, *nouns = nouns_of(garden_rail().snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    set_password(store, "rufus-orme", "rufus", PASSWORD)
    store.close()
    return running_server


def fields_of(page: str, action: str) -> dict[str, str]:
    form = BeautifulSoup(page, "html.parser").select_one(f'form[action="{action}"]')
    assert form is not None
    inputs = form.select("input[name]")
    return {
        str(tag["name"]): str(tag.get("value", ""))
        for tag in inputs
        if tag.get("type") not in ("checkbox", "radio") or tag.has_attr("checked")
    }


def test_nothing_acknowledged_is_lost(served: RunningServer) -> None:
    headers = {"Sec-Fetch-Site": "same-origin"}
    with httpx.Client(base_url=served.base_url, headers=headers, timeout=30) as client:
        signed = client.post("/sign-in", data={"login": "rufus", "password": PASSWORD})
        assert signed.status_code == 303
        logged = entries(served)
        for path, action, typed in PRESSES:
            sent = {**fields_of(client.get(path).text, action), **typed}
            answer = client.post(action, data=sent)
            assert answer.status_code == 303, (action, re.sub(r"\s+", " ", answer.text)[:300])
            served.kill()
            served.start()
            logged += 1
            assert entries(served) == logged, action
            again = client.post(action, data=sent)
            assert again.status_code == 303
            assert entries(served) == logged, "the same form twice is taken once"


def entries(served: RunningServer) -> int:
    store = open_store(served.database_url)
    company_id = store.company_of(PROJECT)
    assert company_id is not None
    found = len(company_entries(store, company_id))
    store.close()
    return found
