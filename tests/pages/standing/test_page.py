"""Where people stand: who, when, in which place; what collides is hatched and can be moved."""

import shutil
from pathlib import Path

import pytest

from tests.pages.at_the_wall import Wall, garden_rail
from tests.worlds import World, on

DAYS = "/p/quarry-road/days"
SQUARE = f"{DAYS}?place=garden-stair&day=2025-12-04"


def crowded() -> World:
    """Ninepail hangs board in the garden stair on Dec 4, and Thimble Hill comes there too."""
    return (
        garden_rail()
        .with_task("Shim the treads", 480, crew="Thimble Hill Framing", place_id="garden-stair")
        .with_booking(
            "Thimble Hill Framing",
            "Shim the treads",
            on("Dec 4"),
            on("Dec 4 15:30"),
            state="coming",
        )
    )


def text(wall: Wall, path: str) -> str:
    page = wall.browser("Rufus Orme").get(path)
    return " ".join(page.select_one("main").get_text(" ").split())  # type: ignore[union-attr]


@pytest.fixture
def crowd(tmp_path: Path, migrated_sqlite: Path) -> "Wall":
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, crowded()) as served:
        yield served  # type: ignore[misc]


def test_a_crew_stands_in_its_place_on_the_day_of_its_visit(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(DAYS)
    (square,) = page.select('td a[href*="place=garden-stair&day=2025-12-04"]')
    assert square.text == "Ninepail Plaster"
    assert "x" not in (square.parent["class"] or [])  # type: ignore[index]


def test_more_crews_than_there_is_room_for_are_hatched(crowd: Wall) -> None:
    page = crowd.browser("Rufus Orme").get(DAYS)
    (square,) = page.select('td a[href*="place=garden-stair&day=2025-12-04"]')
    assert "x" in square.parent["class"]  # type: ignore[index]
    assert "a note is about it" in str(square["aria-label"])


def test_a_pressed_square_says_who_and_why_and_how_to_move_it(crowd: Wall) -> None:
    said = text(crowd, SQUARE)
    assert "Ninepail Plaster : Hang board" in said
    assert "asked to come" in said
    assert "Too many in one place" in said
    page = crowd.browser("Rufus Orme").get(SQUARE)
    assert page.select_one('#square [hx-get="/d/garden-stair-rail/a/hang-board/why"]') is not None
    assert page.select_one('#square form[action="/p/quarry-road/mend"]') is not None


def test_an_empty_square_says_so(wall: Wall) -> None:
    assert "Nobody stands there that day." in text(
        wall, f"{DAYS}?place=garden-stair&day=2025-12-17"
    )


@pytest.mark.parametrize(
    "query", ["?place=nowhere&day=2025-12-04", "?place=garden-stair&day=31-12"]
)
def test_a_square_that_there_is_not_opens_nothing(wall: Wall, query: str) -> None:
    assert "Press a square" in text(wall, DAYS + query)


def test_the_morning_sheet_shows_the_week(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get("/")
    assert len(page.select("table.squares thead th")) == 5


def test_it_is_the_supers(wall: Wall) -> None:
    for person in ("Ninepail Plaster lead", "Lou Vance"):
        assert wall.browser(person).status(DAYS) in (403, 404)
