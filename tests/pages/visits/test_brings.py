"""The notes that asking a crew to come would bring stand beside the press."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Browser, Wall, garden_rail

ASK = "/d/garden-stair-rail/visit"
PAGE = f"{ASK}?activity=shim-the-treads"
FIRST = {"start": "2025-12-05T07:00", "finish": "2025-12-05T15:30"}
SAME_DAY = {"start": "2025-12-04T07:00", "finish": "2025-12-04T15:30"}
CROWD = "Too many in one place"


@pytest.fixture
def rufus(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Browser]:
    """Ninepail comes to the garden stair on Dec 4; Thimble Hill has work there too."""
    shutil.copy(migrated_sqlite, tmp_path)
    world = garden_rail().with_task(
        "Shim the treads", 480, crew="Thimble Hill Framing", place_id="garden-stair"
    )
    with Wall.served(tmp_path, world) as wall:
        yield wall.browser("Rufus Orme")


def test_the_notes_of_the_day_that_is_offered_stand_beside_the_press(rufus: Browser) -> None:
    assert CROWD in rufus.get(PAGE).select_one("#brings").text  # type: ignore[union-attr]


def test_another_day_is_looked_at_as_it_is_typed(rufus: Browser) -> None:
    query = f"{ASK}/brings?activity=shim-the-treads&activity_ids=shim-the-treads"
    for asked, crowd in ((SAME_DAY, True), (FIRST, False)):
        typed = "".join(f"&{name}={value}" for name, value in asked.items())
        assert (CROWD in rufus.get(query + typed).text) == crowd


def test_what_nobody_has_read_yet_is_shown_before_it_is_asked(rufus: Browser) -> None:
    page = rufus.get(PAGE)
    typed = {**SAME_DAY, "known": ""}
    answer = rufus.send(page, ASK, {**typed, "activity_ids": "shim-the-treads"})
    assert answer.status_code == 422
    again = BeautifulSoup(answer.text, "html.parser")
    assert CROWD in again.select_one("#brings").text  # type: ignore[union-attr]
    assert rufus.send(again, ASK, {"activity_ids": "shim-the-treads"}).status_code == 303


def test_a_day_that_brings_nothing_is_asked_at_once(rufus: Browser) -> None:
    typed = {**FIRST, "activity_ids": "shim-the-treads", "known": ""}
    assert rufus.send(rufus.get(PAGE), ASK, {**typed}).status_code == 303
