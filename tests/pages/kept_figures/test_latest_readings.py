"""Kept figures of wood and plaster are worked out with the latest readings each time."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from bs4 import BeautifulSoup

from server.core.changes.actuals import AddReading
from tests.pages.at_the_wall import Browser, Wall
from tests.pages.figures.conftest import a_read_house
from tests.worlds import PROJECT, actor

LIST = "/d/garden-stair-rail/figures"


@pytest.fixture
def wall(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, a_read_house()) as served:
        yield served


@pytest.fixture
def rufus(wall: Wall) -> Browser:
    return wall.browser("Rufus Orme")


def offered(rufus: Browser, figure: str) -> str:
    """The address of a figure as the detail's page fills it in."""
    (link,) = rufus.get(LIST).select(f'a[href*="/figures/{figure}?"]')
    return str(link["href"])


def kept_as_offered(rufus: Browser, figure: str) -> str:
    """The page of a figure that was kept just as it opened."""
    form = rufus.get(offered(rufus, figure)).select_one("main form")
    assert form is not None
    typed = {str(one["name"]): str(one.get("value", "")) for one in form.select("input[name]")}
    for choice in form.select("select"):
        chosen = choice.select_one("option[selected]")
        typed[str(choice["name"])] = str(chosen["value"]) if chosen else ""
    answer = rufus.post(f"{LIST}/keep/{figure}", {**typed, "key": figure})
    assert answer.status_code == 303
    return str(answer.headers["location"])


def read_now(wall: Wall, what: str, value: str) -> None:
    house = wall.snapshot()
    reading = AddReading(id=f"new-{what}", place_id="garden-stair", what=what, typed=value)
    wall.store.apply(actor(house), PROJECT, reading)


def said(page: BeautifulSoup) -> str:
    return " ".join(page.get_text(" ").split())


def planned(rufus: Browser, page: str) -> str:
    return said(rufus.get(page)).partition("Plan: ")[2].partition("Likely")[0]


def test_a_wait_opens_with_its_wet_work_and_what_that_is_made_of(rufus: Browser) -> None:
    fields = parse_qs(urlsplit(offered(rufus, "drying")).query)
    assert (fields["coat"], fields["stuff"]) == (["brown-coat"], ["gypsum"])


def test_a_wait_is_planned_longer_when_the_air_is_damper_by_now(wall: Wall, rufus: Browser) -> None:
    page = kept_as_offered(rufus, "drying")
    before = planned(rufus, page)
    read_now(wall, "humidity", "80")
    after = planned(rufus, page)
    assert float(after.split()[0]) > float(before.split()[0])


def test_a_joint_says_go_or_wait_by_the_readings_of_today(wall: Wall, rufus: Browser) -> None:
    assert "place=garden-stair" in offered(rufus, "joint")
    page = kept_as_offered(rufus, "joint")
    before = said(rufus.get(page)).partition("Today: ")[2].split()[0]
    read_now(wall, "humidity", "85")
    assert (before, said(rufus.get(page)).partition("Today: ")[2].split()[0]) == ("go", "wait")
