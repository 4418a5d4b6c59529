"""Several at the same moment, on each kind of database."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from server.core.world import Company
from server.people.links import new_link, take_link
from server.people.sign_in import FREE, TooSoon, WrongPassword, sign_in
from server.store import Store, accounts
from tests.pages.at_the_wall import garden_rail, nouns_of
from tests.worlds import PROJECT

LEAD = "ore-street-metal-lead"


@pytest.fixture
def store(store: Store) -> Store:
    """The garden stair rail."""
    company, *nouns = nouns_of(garden_rail().snapshot())
    assert isinstance(company, Company)
    store.found_company(company, *nouns)
    return store


def test_tries_at_the_same_time_do_not_slip_past_the_wait(store: Store) -> None:
    def guess(number: int) -> type[Exception]:
        try:
            sign_in(store, "rufus", f"guess {number}", f"127.0.0.{number + 1}")
        except (WrongPassword, TooSoon) as refusal:
            return type(refusal)
        raise AssertionError("a guess was right")

    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(guess, range(12)))
    assert answers.count(WrongPassword) == FREE


def test_of_phones_at_the_same_time_one_is_the_first(store: Store) -> None:
    secret = new_link(store, LEAD, (PROJECT,), "http://127.0.0.1:8000", None).rpartition("/")[2]
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(lambda number: take_link(store, secret, f"phone {number}", None), range(4)))
    with store.reading() as connection:
        devices = accounts.devices_of(connection, LEAD)
    assert len(devices) == 4
    assert sum(device.confirmed is not None for device in devices) == 1
