"""`stairhold people`: founding a firm, adding people, links, ending them."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from server.cli.command import cli
from server.cli.problems import Problem
from server.core.changes.places import KeepCalendar, StartProject
from server.people.links import LinkEnded, open_link
from server.people.sign_in import sign_in
from server.settings import Settings
from server.store import OPERATOR, Store, open_store
from server.store.migrate import upgrade

Stairhold = Callable[..., str]


@pytest.fixture
def store(tmp_path: Path) -> Store:
    settings = Settings(data_dir=tmp_path)
    upgrade(settings)
    return open_store(settings)


@pytest.fixture
def stairhold(store: Store, tmp_path: Path) -> Stairhold:
    """Runs the command on the store's database: what it prints, or the `Problem` it raises."""

    def run(*words: str) -> str:
        result = CliRunner().invoke(cli, words, env={"STAIRHOLD_DATA_DIR": str(tmp_path)})
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        assert result.exit_code == 0, result.output
        return result.output

    return run


@pytest.fixture
def founded(stairhold: Stairhold) -> str:
    """What was printed when the first super came."""
    return stairhold(
        "people", "add", "Ann Ortiz",
        "--role", "super", "--email", "ann@example.com", "--company", "Ortiz Homes",
    )  # fmt: skip


def with_a_house(store: Store) -> None:
    (firm,) = store.companies()
    week = KeepCalendar(id="week", name="Our week", shifts=("0 07:00 15:30",))
    house = StartProject(
        id="house",
        name="Hollis house",
        time_zone="America/Chicago",
        start=datetime(2025, 11, 3, 7),
        calendar_id="week",
    )
    store.apply(OPERATOR, None, week, company_id=firm.id)
    store.apply(OPERATOR, None, house, company_id=firm.id)


def test_the_first_super_founds_the_firm_and_can_sign_in(founded: str, store: Store) -> None:
    password = founded.split("password ")[1].split()[0]
    assert sign_in(store, "ann@example.com", password, "127.0.0.1")
    assert [firm.name for firm in store.companies()] == ["Ortiz Homes"]


def test_without_a_firm_it_says_how_to_begin(stairhold: Stairhold) -> None:
    with pytest.raises(Problem, match="there is no firm yet"):
        stairhold("people", "add", "Lee", "--role", "rep")


def test_a_second_firm_is_not_founded_by_a_slip_of_the_name(
    founded: str, stairhold: Stairhold
) -> None:
    with pytest.raises(Problem, match="Ortiz Homes"):
        stairhold("people", "add", "Lee", "--role", "rep", "--company", "Ortis Homes")


def test_a_link_is_printed_once_and_opens(founded: str, stairhold: Stairhold, store: Store) -> None:
    with_a_house(store)
    stairhold("people", "add", "Lee Park", "--role", "rep")
    address = stairhold("people", "link", "Lee Park").split()[-1]
    assert address.startswith("http://127.0.0.1:8000/l/")
    assert open_link(store, address.rsplit("/", 1)[1]).person.name == "Lee Park"


def test_ending_a_person_ends_their_link(founded: str, stairhold: Stairhold, store: Store) -> None:
    with_a_house(store)
    stairhold("people", "add", "Lee Park", "--role", "rep")
    secret = stairhold("people", "link", "Lee Park").split()[-1].rsplit("/", 1)[1]
    stairhold("people", "end", "lee park")
    with pytest.raises(LinkEnded):
        open_link(store, secret)


def test_a_link_for_a_house_that_is_not_there_names_those_that_are(
    founded: str, stairhold: Stairhold, store: Store
) -> None:
    with_a_house(store)
    stairhold("people", "add", "Lee Park", "--role", "rep")
    with pytest.raises(Problem, match="no house called Holis; it has: Hollis house"):
        stairhold("people", "link", "Lee Park", "--project", "Holis")


def test_somebody_unknown_is_named(founded: str, stairhold: Stairhold) -> None:
    with pytest.raises(Problem, match="nobody at all"):
        stairhold("people", "end", "nobody at all")


def test_the_last_super_cannot_be_ended(founded: str, stairhold: Stairhold) -> None:
    with pytest.raises(Problem):
        stairhold("people", "end", "Ann Ortiz")


def test_a_crews_lead_needs_a_crew_that_is_there(founded: str, stairhold: Stairhold) -> None:
    with pytest.raises(Problem, match="no crew called Glass"):
        stairhold("people", "add", "Luis", "--role", "crew", "--crew", "Glass")
