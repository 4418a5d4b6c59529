"""What is only about how the plan is drawn is noted where it is drawn, and nowhere else."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.pages.at_the_wall import Browser, Wall, garden_rail

PLAN = "/d/garden-stair-rail/plan"
MEND = "/p/quarry-road/mend"


@pytest.fixture
def wall(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The base coat comes after the board, and after the check before that as well."""
    shutil.copy(migrated_sqlite, tmp_path)
    twice = garden_rail().with_dependency("Set stand-offs", "Hang board")
    with Wall.served(tmp_path, twice) as served:
        yield served


def notes(browser: Browser, path: str) -> str:
    page = browser.get(path)
    return " ".join(note.get_text(" ") for note in page.select("ol.notes > li"))


def test_a_needless_arrow_is_noted_on_the_plan_alone(wall: Wall) -> None:
    rufus = wall.browser("Rufus Orme")
    said = notes(rufus, PLAN)
    assert "Set stand-offs" in said
    assert said not in notes(rufus, "/")
    assert "Set stand-offs" not in notes(rufus, "/d/garden-stair-rail")


def test_its_press_takes_the_arrow_away_and_leads_back_to_the_plan(wall: Wall) -> None:
    rufus = wall.browser("Rufus Orme")
    (note,) = (n for n in rufus.get(PLAN).select("ol.notes > li") if "comes after" in n.text)
    form = note.select_one(f'form[action="{MEND}"]')
    assert form is not None, note.text
    fields = {str(tag["name"]): str(tag.get("value", "")) for tag in form.select("input")}
    answer = rufus.post(MEND, fields)
    assert (answer.status_code, answer.headers["location"]) == (303, PLAN)
    assert "set-stand-offs>hang-board" not in wall.snapshot().dependencies


def test_a_note_on_the_plan_can_be_lived_with(wall: Wall) -> None:
    rufus = wall.browser("Rufus Orme")
    link = rufus.get(PLAN).select_one('ol.notes a[href*="/note?"]')
    assert link is not None
    assert rufus.status(str(link["href"])) == 200
