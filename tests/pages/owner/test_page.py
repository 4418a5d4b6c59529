"""What an owner's rep sees: on track or not, what waits on them, what was looked at."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.worlds import World, on

ANSWER = "/v/sample-of-plaster/answer"


@contextmanager
def served(folder: Path, database: Path, world: World) -> Iterator[Wall]:
    shutil.copy(database, folder)
    with Wall.served(folder, world) as wall:
        yield wall


@pytest.fixture
def deciding(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The garden rail, with a sample that Lou Vance has to decide on."""
    world = (
        garden_rail()
        .with_decision("Sample of plaster", person="Lou Vance")
        .with_dependency("Sample of plaster", "Base coat")
    )
    with served(tmp_path, migrated_sqlite, world) as wall:
        yield wall


def said(browser: Browser) -> str:
    return " ".join(browser.get("/v").select_one("main").get_text(" ").split())  # type: ignore[union-attr]


def test_nothing_later_than_promised_is_on_track_and_says_what_sets_the_finish(wall: Wall) -> None:
    text = said(wall.browser("Lou Vance"))
    assert "On track: nothing is later than promised. “Height” sets the finish." in text


def test_later_than_promised_is_said_in_working_days_with_what_it_waits_for(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    world = garden_rail().with_changed("agreed", start=on("Dec 2"), finish=on("Dec 3 15:30"))
    with served(tmp_path, migrated_sqlite, world) as wall:
        text = said(wall.browser("Lou Vance"))
        late = "Garden stair rail is 2 days later than promised. What it waits for now: “Height”."
        assert late in text


def test_without_promised_dates_it_says_so(tmp_path: Path, migrated_sqlite: Path) -> None:
    world = garden_rail()
    world = World(world.made.drop(world.made.agreed["agreed"]), world.detail, world.side)
    with served(tmp_path, migrated_sqlite, world) as wall:
        assert "No dates have been promised yet." in said(wall.browser("Lou Vance"))


def test_a_decision_that_is_owed_can_be_given(deciding: Wall) -> None:
    browser = deciding.browser("Lou Vance")
    page = browser.get("/v")
    assert "Sample of plaster" in page.text
    assert browser.send(page, ANSWER, {"answer": "Sample B"}).status_code == 303
    decision = deciding.snapshot().activities["sample-of-plaster"]
    assert decision.answer == "Sample B"
    assert decision.finished is not None
    assert browser.get("/v").select_one(f'form[action="{ANSWER}"]') is None


def test_an_empty_answer_is_refused_beside_its_field(deciding: Wall) -> None:
    browser = deciding.browser("Lou Vance")
    refused = browser.send(browser.get("/v"), ANSWER, {"answer": "  "})
    assert refused.status_code == 422
    assert 'aria-invalid="true"' in refused.text
    assert deciding.snapshot().activities["sample-of-plaster"].finished is None


def test_a_decision_is_nobody_elses_to_give(deciding: Wall) -> None:
    crew = deciding.browser("Ore Street Metal lead")
    assert crew.post(ANSWER, {"answer": "B", "key": "k-1"}).status_code in (403, 404)
    assert deciding.snapshot().activities["sample-of-plaster"].finished is None


def test_checks_looked_at_in_the_last_seven_days_are_told_and_older_ones_are_not(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    world = (
        garden_rail()
        .with_check("Blocking looked at", after="Blocking")
        .with_attempt("Blocking looked at", "released",
                      decided_by_id="rufus-orme", decided_at=on("Nov 14"))
        .with_attempt("Height", "released", decided_by_id="lou-vance", decided_at=on("Dec 2 15:00"))
    )  # fmt: skip
    with served(tmp_path, migrated_sqlite, world) as wall:
        text = said(wall.browser("Lou Vance"))
        assert "Height: OK to cover yesterday 3 pm, by Lou Vance" in text
        assert "Blocking looked at" not in text


def test_a_check_that_is_theirs_to_look_at_is_linked(tmp_path: Path, migrated_sqlite: Path) -> None:
    world = garden_rail().with_attempt("Height", "marked")
    world = world.put(replace(world.made.holds["height-check"], releases_id="lou-vance"))
    with served(tmp_path, migrated_sqlite, world) as wall:
        page = wall.browser("Lou Vance").get("/v")
        assert page.select_one('a.press[href="/h/height-check"]') is not None


def test_every_detail_has_its_drawing_and_its_finish(wall: Wall) -> None:
    cell = wall.browser("Lou Vance").get("/v").select_one(".dc")
    assert cell is not None
    assert cell.select_one("svg") is not None
    assert "finish" in cell.text


def test_a_finish_says_how_it_stands_opens_and_leads_to_its_dates(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    world = garden_rail().with_changed("agreed", finish=on("Dec 9 15:30"))
    with served(tmp_path, migrated_sqlite, world) as wall:
        cell = wall.browser("Lou Vance").get("/v").select_one(".dc")
        assert cell is not None
        fold = cell.select_one("details.why summary")
        assert fold is not None
        assert fold.text == "finish Sun Dec 7, 2 days earlier than promised"
        assert cell.select_one('[hx-get="/d/garden-stair-rail/a/base-coat-dries/why"]') is not None
        assert cell.select_one('a[href="/d/garden-stair-rail/promise"]') is not None


def test_a_detail_without_work_has_no_finish(tmp_path: Path, migrated_sqlite: Path) -> None:
    world = garden_rail().with_detail("Landing glass")
    with served(tmp_path, migrated_sqlite, world) as wall:
        cells = wall.browser("Lou Vance").get("/v").select(".dc")
        assert ["finish" in cell.text for cell in cells] == [True, False]


def test_a_rep_of_no_house_is_told_so(tmp_path: Path, migrated_sqlite: Path) -> None:
    world = garden_rail()
    world = World(world.made.drop(world.made.given["lou-vance-given"]), world.detail, world.side)
    with served(tmp_path, migrated_sqlite, world) as wall:
        assert "No house has been given to you" in said(wall.browser("Lou Vance"))


def test_a_crew_is_led_to_its_own_page(wall: Wall) -> None:
    answer = wall.browser("Ore Street Metal lead").client.get("/v", follow_redirects=False)
    assert answer.headers["location"] == "/me"
