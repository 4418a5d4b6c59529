"""What remains of work under way: hours, days, or how much is done, and why it takes longer."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Wall, garden_rail
from tests.worlds import on

LEAD = "Ore Street Metal lead"
WORK = "/d/garden-stair-rail/a/set-stand-offs"
PRESS = f"{WORK}/remaining"


@pytest.fixture
def under_way(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The stand-offs, six hours of work, begun yesterday and not done."""
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, garden_rail().with_changed("Set stand-offs", finished=None)) as wall:
        yield wall


def facts(wall: Wall) -> str:
    found = wall.browser(LEAD).get(WORK).select_one(".facts")
    return " ".join(found.get_text(" ").split()) if found else ""


def test_nothing_is_said_to_remain_where_nobody_has_said_it(under_way: Wall) -> None:
    assert "Still to do" not in facts(under_way)


@pytest.mark.parametrize("typed", ["50 %", "50%", " 50 "])
def test_how_much_is_done_is_taken_in_percent(under_way: Wall, typed: str) -> None:
    crew = under_way.browser(LEAD)
    assert crew.send(crew.get(WORK), PRESS, {"remaining_done": typed}).status_code == 303
    assert under_way.snapshot().activities["set-stand-offs"].remaining == 180
    assert "Still to do about 50% done, 3 h remain" in facts(under_way)


def test_hours_are_taken_and_said_with_how_much_that_makes(under_way: Wall) -> None:
    crew = under_way.browser(LEAD)
    assert crew.send(crew.get(WORK), PRESS, {"remaining_remaining": "2 h"}).status_code == 303
    assert "about 66% done, 2 h remain" in facts(under_way)


def test_more_than_all_of_it_is_said_without_a_percentage(under_way: Wall) -> None:
    crew = under_way.browser(LEAD)
    typed = {"remaining_remaining": "1 day", "remaining_cause": "Blocking was out of plumb"}
    assert crew.send(crew.get(WORK), PRESS, {**typed}).status_code == 303
    assert "Still to do 1 day remain" in facts(under_way)


def test_why_it_takes_longer_is_kept_with_the_day(under_way: Wall) -> None:
    crew = under_way.browser(LEAD)
    typed = {"remaining_remaining": "1 day", "remaining_cause": "Blocking was out of plumb"}
    crew.send(crew.get(WORK), PRESS, {**typed})
    cause = next(iter(under_way.snapshot().causes.values()))
    assert (cause.text, cause.detail_id, cause.day) == (
        "Blocking was out of plumb", "garden-stair-rail", on("Dec 3").date(),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"remaining_done": "half"}, "remaining_done"),
        ({"remaining_done": "-5"}, "remaining_done"),
        ({"remaining_done": "100 %"}, "remaining_done"),
        ({"remaining_done": "60", "remaining_remaining": "2 h"}, "remaining_done"),
        ({"remaining_remaining": "soon"}, "remaining_remaining"),
        ({}, "remaining_remaining"),
    ],
)
def test_what_cannot_be_read_is_refused_beside_its_field_and_kept(
    under_way: Wall, typed: dict[str, str], field: str
) -> None:
    crew = under_way.browser(LEAD)
    answer = crew.send(crew.get(WORK), PRESS, {"remaining_cause": "Rain", **typed})
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one(f"#{field}-e") is not None
    kept = {str(box["name"]): box["value"] for box in page.select('[name^="remaining_"]')}
    assert kept["remaining_cause"] == "Rain"
    assert kept[field] == typed.get(field, "")
    assert under_way.snapshot().activities["set-stand-offs"].remaining is None
