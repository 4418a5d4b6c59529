"""The morning sheet of sixty details is one glance; the rest of it is a press away."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.bench.big_house import big_house
from tests.pages.at_the_wall import Browser, Wall


@pytest.fixture(scope="module")
def super_of_sixty(
    tmp_path_factory: pytest.TempPathFactory, migrated_sqlite: Path
) -> Iterator[Browser]:
    folder = tmp_path_factory.mktemp("sixty")
    shutil.copy(migrated_sqlite, folder)
    with Wall.served(folder, big_house(6, 60)) as wall:
        yield wall.browser("Rufus Orme")


@pytest.fixture(scope="module")
def sheet(super_of_sixty: Browser) -> BeautifulSoup:
    return super_of_sixty.get("/")


def in_the_open(page: BeautifulSoup, selector: str) -> int:
    """How many there are that are not folded away."""
    folded = page.select(f"details.more {selector}")
    return len(page.select(selector)) - len(folded)


def test_few_details_are_drawn_and_all_are_listed(sheet: BeautifulSoup) -> None:
    assert len(sheet.select(".strip .dc")) == 6
    cells = sheet.select(".strip .dh a, details.more table.list td a")
    assert len({a["href"] for a in cells}) == 60


def test_the_worst_note_is_about_a_detail_that_is_drawn(sheet: BeautifulSoup) -> None:
    first = sheet.select_one("#note-1 .kind")
    assert first
    assert first.text.partition(": ")[2] in [hl.text for hl in sheet.select(".strip .hl")]


def test_five_go_next_in_the_open(sheet: BeautifulSoup) -> None:
    heading = sheet.select_one("#next-quarry-road")
    assert heading
    assert len(heading.find_next("ol").select(":scope > li")) == 5  # type: ignore[union-attr]


def test_eight_notes_stand_in_the_open_and_the_rest_is_folded(sheet: BeautifulSoup) -> None:
    assert in_the_open(sheet, ".notes > li") == 8
    assert len(sheet.select(".notes > li")) > 20


def test_a_note_whose_mends_were_not_tried_leads_to_them(
    super_of_sixty: Browser, sheet: BeautifulSoup
) -> None:
    ways = [
        str(a["href"])
        for a in sheet.select("details.more .notes .presses > a")
        if a.text.startswith("What mends it")
    ]
    assert ways
    pages = [super_of_sixty.get(way) for way in ways[:6]]
    assert all("What mends it" in page.text for page in pages)
    assert any(page.select('form[action$="/mend"] button') for page in pages)


def test_a_detail_of_a_large_house_tries_the_mends_of_its_worst_note(
    super_of_sixty: Browser, sheet: BeautifulSoup
) -> None:
    drawn = [super_of_sixty.get(str(a["href"])) for a in sheet.select(".strip .dh a")]
    notes = max((page.select(".notes > li") for page in drawn), key=len)
    later = [note for note in notes[1:] if note.select('form[action$="/mend"]')]
    assert len(notes) > 2
    assert not later
    assert any("What mends it" in note.text for note in notes[1:])


def test_deliveries_are_the_first_of_many_those_of_a_detail_or_all(super_of_sixty: Browser) -> None:
    address = "/p/quarry-road/deliveries"
    first, whole = super_of_sixty.get(address), super_of_sixty.get(f"{address}?all=yes")
    assert len(first.select(".ahead > li")) == 12
    assert len(whole.select(".ahead > li")) > 12
    chosen = str(whole.select("#detail option")[-1]["value"])
    of_one = super_of_sixty.get(f"{address}?detail={chosen}").select(".ahead > li > div > p > a")
    assert of_one
    assert all(str(a["href"]).startswith(f"/d/{chosen}/") for a in of_one)
