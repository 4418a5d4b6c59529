"""Asking each of two crews that work together, and one crew once for several short tasks."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.pages.at_the_wall import Wall, fields_of, garden_rail
from tests.worlds import HOUR, on

DETAIL = "/d/garden-stair-rail"
GLASS = f"{DETAIL}/visit?activity=set-the-glass"
TOUCH = f"{DETAIL}/visit?activity=touch-up"


@pytest.fixture
def house(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """Glass set by two crews together; two short tasks of a third in two details."""
    shutil.copy(migrated_sqlite, tmp_path)
    world = (
        garden_rail()
        .with_crew("Larch Glazing", trade="glass")
        .with_crew("Cricket Post", trade="painting", notice=3 * 24 * HOUR)
        .with_task("Set the glass", 4 * HOUR, crew="Ore Street Metal",
                   with_crew_ids=("larch-glazing",), place_id="garden-stair")
        .with_task("Touch up", HOUR, crew="Cricket Post")
        .with_detail("Main flight", sheet="D4")
        .with_task("Oil the rail", HOUR, crew="Cricket Post", not_before=on("Dec 5"))
    )  # fmt: skip
    with Wall.served(tmp_path, world) as served:
        yield served


def test_each_of_two_crews_that_work_together_is_asked(house: Wall) -> None:
    rufus = house.browser("Rufus Orme")
    page = rufus.get(GLASS)
    assert "Larch Glazing: not asked yet" in " ".join(page.text.split())
    assert rufus.send(page, f"{DETAIL}/visit").status_code == 303
    page = rufus.get(GLASS)
    assert page.select_one("h1").text == "Larch Glazing"  # type: ignore[union-attr]
    assert "Ore Street Metal: asked for" in " ".join(page.text.split())
    assert rufus.send(page, f"{DETAIL}/visit").status_code == 303
    crews = {b.crew_id for b in house.snapshot().visits_of["set-the-glass"]}
    assert crews == {"ore-street-metal", "larch-glazing"}


def test_a_crew_sees_with_whom_it_works(house: Wall) -> None:
    assert "with Ore Street Metal" in house.browser("Larch Glazing lead").get("/me").text
    assert "with Larch Glazing" in house.browser("Ore Street Metal lead").get("/me").text


def test_work_of_two_crews_is_said_to_be(house: Wall) -> None:
    page = house.browser("Rufus Orme").get(f"{DETAIL}/a/set-the-glass")
    assert "Ore Street Metal with Larch Glazing" in page.text


def test_another_time_of_joint_work_moves_the_visits_of_both(house: Wall) -> None:
    rufus = house.browser("Rufus Orme")
    for _ in range(2):
        rufus.send(rufus.get(GLASS), f"{DETAIL}/visit")
    push = f"{DETAIL}/push/set-the-glass"
    page = rufus.get(f"{push}?what=visit&day=2025-12-09T07:00")
    assert "Ore Street Metal and Larch Glazing come" in " ".join(page.text.split())
    assert rufus.send(page, push).status_code == 303
    starts = {b.start for b in house.snapshot().visits_of["set-the-glass"]}
    assert starts == {on("Dec 9")}


def test_short_tasks_of_two_details_are_asked_for_once_with_one_press(house: Wall) -> None:
    rufus = house.browser("Rufus Orme")
    page = rufus.get(TOUCH)
    form = page.select_one(f'form[action="{DETAIL}/visit"]')
    assert form is not None
    fields = fields_of(form)
    assert fields["activity_ids"] == ["touch-up", "oil-the-rail"]
    assert rufus.post(f"{DETAIL}/visit", fields).status_code == 303  # type: ignore[arg-type]
    (visit,) = house.snapshot().visits_of["oil-the-rail"]
    assert visit.activity_ids == ("touch-up", "oil-the-rail")
    crew = house.browser("Cricket Post lead").get("/me").text
    assert "Touch up and Oil the rail" in crew
    assert "Main flight" in crew


def test_a_visit_too_short_or_too_soon_for_the_crew_says_so(house: Wall) -> None:
    rufus = house.browser("Rufus Orme")
    asked = "activity_ids=touch-up&crew=cricket-post&activity=touch-up"
    short = rufus.get(
        f"{DETAIL}/visit/brings?{asked}&start=2025-12-04T07:00&finish=2025-12-04T08:00"
    )
    assert "comes for 4 h at least" in short.text
    assert "wants to know" in short.text
    long = rufus.get(
        f"{DETAIL}/visit/brings?{asked}&start=2025-12-10T07:00&finish=2025-12-10T15:00"
    )
    assert "at least" not in long.text
    assert "wants to know" not in long.text
